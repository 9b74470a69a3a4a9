import type { FasteningRow } from '../fasteners/index.ts';
import { judgeRow, type RowJudgement } from '../fasteners/index.ts';
import { layOutOpening, type OpeningLayout } from '../layout/index.ts';
import { materialsList } from '../materials-list/index.ts';
import { refuseUnless } from '../trace/refusal.ts';
import { governingCheck, type Check } from '../trace/step.ts';
import { calculateBeam, type BeamOutcome, type Outcome } from './beam.ts';
import { calculateFooting } from './footing.ts';
import type { OpeningInput } from './input.ts';
import { footingField, openingField, packField, refusingAt, shoringField } from './paths.ts';
import { calculateShoring, type ShoringOutcome } from './shoring.ts';
import { calculateSupport } from './support.ts';

/** Everything about one opening, from what bears on the wall to the soil. */
export interface OpeningOutcome {
  readonly beam: BeamOutcome;
  readonly supports: readonly (Outcome & { readonly end: 'left' | 'right' })[];
  readonly footings: readonly (Outcome & { readonly end: 'left' | 'right' })[];
  readonly shoring?: ShoringOutcome;
  readonly rows: readonly RowJudgement[];
  readonly layout: OpeningLayout;
  readonly materials: ReturnType<typeof materialsList>;
  readonly passes: boolean;
  readonly governing: Check | undefined;
}

/**
 * The whole calculation of one opening.
 *
 * @throws Refusal with the path of the entry that can't be ('supports.1.size')
 */
export function calculateOpening(input: OpeningInput): OpeningOutcome {
  const { criteria, survey, beam, supports, footings, shoring } = input;
  const outcome = refusingAt(openingField, () => calculateBeam(survey, criteria, beam));
  refuseRepeatedEnds('supports', supports);
  refuseRepeatedEnds('footings', footings);
  const packs = supports.map((support, index) => ({
    end: support.end,
    ...refusingAt(
      (path) => `supports.${index}.${path}`,
      () => calculateSupport(survey, criteria, beam, support, outcome),
    ),
  }));
  const concrete = footings.map((footing, index) => {
    const support = supports.find((one) => one.end === footing.end);
    refuseUnless(
      support !== undefined,
      `footings.${index}.end`,
      `There is no ${footing.end} support for this footing to stand under.`,
    );
    return {
      end: footing.end,
      ...refusingAt(
        (path) => `footings.${index}.${footingField(path)}`,
        () => calculateFooting(survey, criteria, beam, support, footing, outcome),
      ),
    };
  });
  const temporary =
    shoring === undefined
      ? undefined
      : refusingAt(shoringField, () => calculateShoring(survey, criteria, beam, footings, shoring));
  const rows = input.rows.map((row: FasteningRow, index) =>
    refusingAt(
      (path) => `rows.${index}.${path}`,
      () => judgeRow(row, criteria.editions),
    ),
  );
  const checks = [
    ...outcome.checks,
    ...packs.flatMap((pack) => pack.checks),
    ...concrete.flatMap((one) => one.checks),
    ...(temporary?.checks ?? []),
    ...rows.flatMap((row) => row.checks),
  ];
  const { editions } = criteria;
  return {
    beam: outcome,
    supports: packs,
    footings: concrete,
    ...(temporary === undefined ? {} : { shoring: temporary }),
    rows,
    ...refusingAt(
      (path) => packField(path, supports),
      () => ({
        layout: layOutOpening({ survey, beam, supports, footings, editions }),
        materials: materialsList({
          survey,
          beam,
          supports,
          footings,
          editions,
          rows: input.rows.map((row) => ({ key: row.id, row })),
          ...(shoring === undefined ? {} : { shoring }),
        }),
      }),
    ),
    passes: checks.every((check) => check.passes),
    governing: governingCheck(checks),
  };
}

function refuseRepeatedEnds(list: string, entries: readonly { readonly end: 'left' | 'right' }[]): void {
  entries.forEach(({ end }, index) => {
    refuseUnless(
      entries.findIndex((entry) => entry.end === end) === index,
      `${list}.${index}.end`,
      `The ${end} end is there twice.`,
    );
  });
}
