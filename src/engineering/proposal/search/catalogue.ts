import { COMPOSITE_CLASSES } from '../../materials/composite-lumber.ts';
import { GLULAM_COMBINATIONS } from '../../materials/glulam.ts';
import { SAWN_SIZES } from '../../materials/lumber-sizes.ts';
import { gradesFor } from '../../materials/sawn-lumber.ts';
import { SPECIES_CODES } from '../../materials/wood-species.ts';
import { wideFlanges } from '../../steel/index.ts';
import type { GlulamMember, Member, SawnMember, CompositeMember, SteelMember } from '../design.ts';

export type MaterialKind = 'sawn' | 'composite' | 'glulam' | 'steel';

/** A beam shallower than this carries nothing that a wall carried. Common practice. */
const SHALLOWEST_NOMINAL_IN = 6;
const MOST_PLIES = 5;
const MOST_COMPOSITE_PLIES = 4;
/** Stock widths of western and southern glulam; depths in laminations of 1 1/2 in. Common practice. */
const GLULAM_WIDTHS_IN = [3.125, 3.5, 5.125, 5.5, 6.75];
const LAMINATION_IN = 1.5;
const GLULAM_LAMINATIONS = { fewest: 5, most: 16 };
/** ASTM A992. */
const WIDE_FLANGE_FY_KSI = 50;

function sawn(): SawnMember[] {
  return SAWN_SIZES.filter(
    (size) => size.nominalWidthIn >= SHALLOWEST_NOMINAL_IN && size.nominalWidthIn > size.nominalThicknessIn,
  ).flatMap((size) =>
    SPECIES_CODES.flatMap((species) =>
      gradesFor(species, size).flatMap((grade) => {
        const most = size.nominalThicknessIn === 2 ? MOST_PLIES : 1;
        return Array.from({ length: most }, (_, index) => ({
          kind: 'sawn' as const,
          species,
          grade,
          size: size.name,
          plies: index + 1,
        }));
      }),
    ),
  );
}

function composite(): CompositeMember[] {
  return COMPOSITE_CLASSES.flatMap(({ name, thicknessesIn, depthsIn }) =>
    thicknessesIn.flatMap((thicknessIn) =>
      depthsIn.flatMap((depthIn) => {
        const most = thicknessIn < 3 ? MOST_COMPOSITE_PLIES : 2;
        return Array.from({ length: most }, (_, index) => ({
          kind: 'composite' as const,
          class: name,
          thicknessIn,
          depthIn,
          plies: index + 1,
        }));
      }),
    ),
  );
}

function glulam(): GlulamMember[] {
  const { fewest, most } = GLULAM_LAMINATIONS;
  return GLULAM_COMBINATIONS.flatMap((combination) =>
    GLULAM_WIDTHS_IN.flatMap((widthIn) =>
      Array.from({ length: most - fewest + 1 }, (_, index) => ({
        kind: 'glulam' as const,
        combination,
        widthIn,
        depthIn: (fewest + index) * LAMINATION_IN,
      })),
    ),
  );
}

function steel(): SteelMember[] {
  return wideFlanges.map(({ shape }) => ({ kind: 'steel' as const, shape, fyKsi: WIDE_FLANGE_FY_KSI }));
}

/** Every member the engine can judge by itself: species × grade × size × plies, composites, glulam, wide flanges. */
export function beamCatalogue(
  kinds: readonly MaterialKind[] = ['sawn', 'composite', 'glulam', 'steel'],
): Member[] {
  const make = { sawn, composite, glulam, steel };
  return kinds.flatMap((kind): Member[] => make[kind]());
}
