import type { Actor } from '../../actor.ts';
import type { RecordDeps } from '../../record/use-case.ts';
import { sheetOfOpening, sheetOfSet } from '../calculation-sheet/gather.ts';
import { calculationSheetPdf } from '../calculation-sheet/pdf.ts';
import { checklistOfSet, checklistOfVisit } from '../checklist/gather.ts';
import { checklistPdf } from '../checklist/pdf.ts';
import { drawingSheetOfSet } from '../drawing-sheet/gather.ts';
import { drawingSheetPdf } from '../drawing-sheet/pdf.ts';
import { scheduleOfSet } from '../fastener-schedule/gather.ts';
import { fastenerSchedulePdf } from '../fastener-schedule/pdf.ts';
import { ownerSummary } from '../owner-summary/gather.ts';
import { ownerSummaryPdf } from '../owner-summary/pdf.ts';

export interface PaperDeps extends RecordDeps {
  /** Codes on papers lead to pages of this service. */
  readonly config: { readonly publicUrl: string };
}

/** A paper that goes along, made for each opening, each approved set or each closed visit. */
export interface PackedPaper {
  readonly of: 'opening' | 'set' | 'closed visit';
  /** Its name in the package, before the number of what it is of. */
  readonly name: string;
  readonly make: (deps: PaperDeps, actor: Actor, id: string) => Promise<Buffer>;
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
  {
    of: 'set',
    name: 'drawings-of-set',
    make: async (deps, actor, id) =>
      drawingSheetPdf(await drawingSheetOfSet(deps, actor, id, deps.config.publicUrl)),
  },
  {
    of: 'set',
    name: 'fastener-schedule-of-set',
    make: async (deps, actor, id) => fastenerSchedulePdf(await scheduleOfSet(deps, actor, id)),
  },
  {
    of: 'set',
    name: 'checklist-of-set',
    make: async (deps, actor, id) =>
      checklistPdf(await checklistOfSet(deps, actor, id, deps.config.publicUrl)),
  },
  {
    of: 'closed visit',
    name: 'visit',
    make: async (deps, actor, id) =>
      checklistPdf(await checklistOfVisit(deps, actor, id, deps.config.publicUrl)),
  },
  {
    of: 'opening',
    name: 'owner-summary',
    make: async (deps, actor, id) =>
      ownerSummaryPdf(await ownerSummary(deps, actor, id, deps.config.publicUrl)),
  },
];
