import type { Actor } from '../../actor.ts';
import type { RecordDeps } from '../../record/use-case.ts';
import { sheetOfOpening, sheetOfSet } from '../calculation-sheet/gather.ts';
import { calculationSheetPdf } from '../calculation-sheet/pdf.ts';

/** A paper that goes along, made for each opening or for each approved set. */
export interface PackedPaper {
  readonly of: 'opening' | 'set';
  /** Its name in the package, before the number of what it is of. */
  readonly name: string;
  readonly make: (deps: RecordDeps, actor: Actor, id: string) => Promise<Buffer>;
}

/** Every kind of paper in a package. Whoever adds a paper to the program adds a line here. */
export const packedPapers: readonly PackedPaper[] = [
  {
    of: 'opening',
    name: 'calculation-working-state',
    make: async (deps, actor, id) => calculationSheetPdf(await sheetOfOpening(deps, actor, id)),
  },
  {
    of: 'set',
    name: 'calculation-of-set',
    make: async (deps, actor, id) => calculationSheetPdf(await sheetOfSet(deps, actor, id)),
  },
];
