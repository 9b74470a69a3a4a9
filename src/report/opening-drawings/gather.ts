import type { Actor } from '../../actor.ts';
import { layOutOpening } from '../../engineering/layout/index.ts';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import type { Beam, Footing, Hanger, Support } from '../../engineering/proposal/design.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import { Refusal } from '../../engineering/trace/index.ts';
import { dayText } from '../../house-time.ts';
import { NotFound } from '../../problems.ts';
import { knownId } from '../../record/identifier.ts';
import { memberWords } from '../../record/kinds/beam/kind.ts';
import type { ItemKind } from '../../record/kinds/definition.ts';
import { packWords } from '../../record/kinds/support/kind.ts';
import { zoneOfHouse } from '../../record/projects/house-zone.ts';
import { withFullStop } from '../../record/prose.ts';
import { readSet, type SetView } from '../../record/sets/read.ts';
import { asMember, type RecordDeps } from '../../record/use-case.ts';
import { newestContents } from '../../record/versions/newest-contents.ts';
import { versionsById } from '../../record/versions/store.ts';
import type { DrawnOpening, FigureNote } from '../drawings/scaled/index.ts';
import { RECORD_LINE } from '../pdf/blocks.ts';

/** What the elevation and the sections of an opening are made from, and whose state they show. */
export interface OpeningDrawings {
  readonly project: { readonly name: string; readonly address: string };
  /** Of the house. */
  readonly timeZone: string;
  readonly opening: { readonly openingId: string; readonly ordinal: number; readonly name: string };
  /** Null where it is a proposal. */
  readonly set: SetView | null;
  /** 'Approved set 2, issued …', or that it is not approved. */
  readonly basis: string;
  /** Null where nothing can be drawn, for the reason in `why`. */
  readonly drawn: DrawnOpening | null;
  readonly why: string;
}

type Contents = ReadonlyMap<ItemKind, readonly unknown[]>;

/** From the very versions of an issued set. @throws NotFound for a set of another project */
export async function drawingsOfSet(
  deps: RecordDeps,
  actor: Actor,
  setId: string,
): Promise<OpeningDrawings & { readonly set: SetView }> {
  const [set, timeZone] = await Promise.all([
    readSet(deps, actor, { setId }),
    zoneOfHouse(deps.prisma, actor.projectId),
  ]);
  const { content } = set;
  const items = [...content.bases, ...content.entries];
  const versions = await asMember(deps, actor, 'set.read', (tx, { projectId }) =>
    versionsById(
      tx,
      projectId,
      items.map(({ versionId }) => versionId),
    ),
  );
  const byId = new Map(versions.map((version) => [version.versionId, version.content]));
  const contents = new Map<ItemKind, unknown[]>();
  for (const { kind, versionId } of items) {
    const one = byId.get(versionId);
    if (one !== undefined) contents.set(kind, [...(contents.get(kind) ?? []), one]);
  }
  const basis = `Approved set ${set.number}, issued ${dayText(set.issuedAt, timeZone)} by ${content.issuedBy.name}`;
  const notes: FigureNote[] = [
    ...(set.supersededBy === null
      ? []
      : [{ text: `Superseded: set ${set.supersededBy} is in force. Do not build from this.`, warns: true }]),
    ...set.flags.map((flag) => ({ text: flag.sentence, warns: true })),
    { text: `${withFullStop(basis)} Hash ${set.hash.slice(0, 16)}.` },
    { text: RECORD_LINE },
  ];
  return {
    project: content.project,
    timeZone,
    opening: content.opening,
    set,
    basis,
    ...drawnFrom(contents, notes, 'This set holds'),
  };
}

/** From the newest versions, approved or not. @throws NotFound for another project's opening */
export async function drawingsOfOpening(
  deps: RecordDeps,
  actor: Actor,
  openingId: string,
): Promise<OpeningDrawings> {
  const known = knownId(openingId, 'That opening');
  return asMember(deps, actor, 'item.read', async (tx, { projectId }) => {
    const found = await tx.opening.findFirst({
      where: { id: known, projectId },
      include: { project: { select: { name: true, address: true, timeZone: true } } },
    });
    if (found === null) throw new NotFound('That opening');
    const contents = await newestContents(tx, projectId, known, [
      'criteria',
      'survey',
      'beam',
      'support',
      'footing',
      'hanger',
    ]);
    const basis = `Proposal, not approved; as of ${dayText(deps.clock(), found.project.timeZone)}`;
    const notes: FigureNote[] = [
      { text: `${basis}. Build from an approved set only.`, warns: true },
      { text: RECORD_LINE },
    ];
    return {
      project: found.project,
      timeZone: found.project.timeZone,
      opening: { openingId: known, ordinal: found.ordinal, name: found.name },
      set: null,
      basis,
      ...drawnFrom(contents, notes, 'The opening has'),
    };
  });
}

/** Each kind's schema judged the contents before they were saved. */
function drawnFrom(
  contents: Contents,
  notes: readonly FigureNote[],
  whose: string,
): Pick<OpeningDrawings, 'drawn' | 'why'> {
  const [criteria] = (contents.get('criteria') ?? []) as readonly Criteria[];
  const [survey] = (contents.get('survey') ?? []) as readonly Survey[];
  const [beam] = (contents.get('beam') ?? []) as readonly Beam[];
  if (survey === undefined || criteria === undefined) {
    return { drawn: null, why: `${whose} no survey and criteria, so nothing can be drawn.` };
  }
  if (beam === undefined)
    return { drawn: null, why: `${whose} no beam, so there is nothing to draw to scale.` };
  const supports = (contents.get('support') ?? []) as readonly Support[];
  const footings = (contents.get('footing') ?? []) as readonly Footing[];
  const hangers = (contents.get('hanger') ?? []) as readonly Hanger[];
  try {
    const layout = layOutOpening({ survey, beam, supports, footings, editions: criteria.editions });
    const supportWords = Object.fromEntries(supports.map((one) => [one.end, packWords(one)]));
    return {
      drawn: {
        layout,
        footings,
        hangers,
        supports,
        beamWords: memberWords(beam.member),
        supportWords,
        notes,
      },
      why: '',
    };
  } catch (error) {
    if (error instanceof Refusal) return { drawn: null, why: error.message };
    throw error;
  }
}
