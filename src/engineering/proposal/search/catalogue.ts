import { COMPOSITE_CLASSES } from '../../materials/composite-lumber.ts';
import { GLULAM_COMBINATIONS } from '../../materials/glulam.ts';
import { SAWN_SIZES } from '../../materials/lumber-sizes.ts';
import { gradesFor } from '../../materials/sawn-lumber.ts';
import { SPECIES_CODES } from '../../materials/wood-species.ts';
import { wideFlanges } from '../../steel/index.ts';
import { woodMember, type NdsEdition, type WoodChoice, type WoodMember } from '../../wood/index.ts';
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

const MAKERS: Readonly<Record<MaterialKind, () => readonly Member[]>> = { sawn, composite, glulam, steel };
const made = new Map<MaterialKind, readonly Member[]>();

/** The catalogue never changes while the program runs: each kind of it is written down once. */
function membersOf(kind: MaterialKind): readonly Member[] {
  const members = made.get(kind) ?? MAKERS[kind]();
  made.set(kind, members);
  return members;
}

/** Every member the engine can judge by itself: species × grade × size × plies, composites, glulam, wide flanges. */
export function beamCatalogue(
  kinds: readonly MaterialKind[] = ['sawn', 'composite', 'glulam', 'steel'],
): readonly Member[] {
  return kinds.flatMap(membersOf);
}

/** Names a member in price lists and results: 'composite LVL 2.0E 1.75x11.875 x3'. */
export function memberKey(member: Member): string {
  switch (member.kind) {
    case 'sawn':
      return `sawn ${member.species} ${member.grade} ${member.size} x${member.plies}`;
    case 'composite':
      return `composite ${member.class} ${member.thicknessIn}x${member.depthIn} x${member.plies}`;
    case 'glulam':
      return `glulam ${member.combination} ${member.widthIn}x${member.depthIn}`;
    case 'steel':
      return `steel ${member.shape}`;
    case 'flitch':
      return `flitch ${member.species} ${member.grade} ${member.size} x${member.woodPlies} + ${member.plates} x ${member.plateThicknessIn}x${member.plateDepthIn}`;
  }
}

/** One ply of a member, as a yard sells it by the foot. */
export function pieceKey(member: Member): string {
  switch (member.kind) {
    case 'sawn':
      return `${member.size} ${member.species} ${member.grade}`;
    case 'composite':
      return `${member.thicknessIn}x${member.depthIn} ${member.class}`;
    case 'glulam':
      return `${member.widthIn}x${member.depthIn} glulam ${member.combination}`;
    case 'steel':
      return member.shape;
    case 'flitch':
      return memberKey(member);
  }
}

/** What of a wood member no opening decides. */
export interface WoodEntry {
  readonly wood: WoodMember;
  readonly key: string;
}

const woods = new WeakMap<Member, Map<NdsEdition, WoodEntry>>();

/** The member as the wood rules see it; read from the tables once for each edition. */
export function woodEntry(member: WoodChoice & Member, edition: NdsEdition): WoodEntry {
  const byEdition = woods.get(member) ?? new Map<NdsEdition, WoodEntry>();
  const entry = byEdition.get(edition) ?? { wood: woodMember(member, edition), key: memberKey(member) };
  woods.set(member, byEdition.set(edition, entry));
  return entry;
}
