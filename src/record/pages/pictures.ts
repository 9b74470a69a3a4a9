import type { Actor } from '../../actor.ts';
import type { FasteningRow } from '../../engineering/fasteners/index.ts';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import { layOutOpening } from '../../engineering/layout/index.ts';
import type { Beam, Footing, Support } from '../../engineering/proposal/design.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import { Refusal } from '../../engineering/trace/index.ts';
import {
  beamPictures,
  layoutPicture,
  nailingPicture,
  surveyPicture,
  type Picture,
} from '../../report/pictures/index.ts';
import { fastenerWords } from '../kinds/fastening/kind.ts';
import type { ItemKind } from '../kinds/definition.ts';
import type { RecordedGround } from '../staleness/rules.ts';
import type { RecordDeps } from '../use-case.ts';
import { newestContents } from '../versions/newest-contents.ts';
import { readGroundsOf } from '../versions/preview.ts';

type Grounds = ReadonlyMap<ItemKind, unknown>;

/** Kinds that have something to draw; for all others no version is looked up. */
const drawn: ReadonlySet<ItemKind> = new Set(['survey', 'beam', 'fastening', 'support']);

/** What a picture is drawn from besides the item itself; the beam only where the item rests on it. */
const grounding: ReadonlySet<string> = new Set(['survey', 'criteria', 'beam']);

/**
 * The pictures of a version as it was made: from its own content and from the very versions of survey,
 * criteria and beam that it rests on, so that an old version is drawn as it stood, whatever has moved since.
 */
export async function picturesOfVersion(
  deps: Pick<RecordDeps, 'prisma'>,
  projectId: string,
  kind: ItemKind,
  version: { readonly content: unknown; readonly restsOn: readonly RecordedGround[] },
): Promise<readonly Picture[]> {
  if (!drawn.has(kind)) return [];
  if (kind === 'survey') {
    // It rests on nothing, so its loads are drawn by the criteria as they are now.
    const criteria = await newestContents(deps.prisma, projectId, null, ['criteria']);
    return draw(kind, version.content, new Map([['criteria', criteria.get('criteria')?.[0]]]));
  }
  const wanted = version.restsOn
    .filter(({ on }) => grounding.has(on.kind))
    .map(({ on }) => ({ itemId: on.itemId, number: on.number }));
  if (wanted.length === 0) return [];
  const rows = await deps.prisma.version.findMany({
    where: { projectId, OR: wanted },
    select: { content: true, item: { select: { kind: true } } },
  });
  const grounds = new Map(rows.map((row) => [row.item.kind, JSON.parse(row.content) as unknown]));
  return draw(kind, version.content, grounds);
}

/** The pictures of what is being typed, on the newest versions of what it will rest on. */
export async function picturesOfPreview(
  deps: RecordDeps,
  actor: Actor,
  openingId: string | null,
  kind: ItemKind,
  content: unknown,
): Promise<readonly Picture[]> {
  return drawn.has(kind) ? draw(kind, content, await readGroundsOf(deps, actor, openingId)) : [];
}

/** The opening as its newest versions have it: with the beam on its packs once there is one, else what bears there. */
export async function pictureOfOpening(
  deps: Pick<RecordDeps, 'prisma'>,
  projectId: string,
  openingId: string,
): Promise<Picture | null> {
  const contents = await newestContents(deps.prisma, projectId, openingId, [
    'criteria',
    'survey',
    'beam',
    'support',
    'footing',
  ]);
  // Each kind's schema judged its contents before they were saved.
  const [criteria] = (contents.get('criteria') ?? []) as readonly Criteria[];
  const [survey] = (contents.get('survey') ?? []) as readonly Survey[];
  const [beam] = (contents.get('beam') ?? []) as readonly Beam[];
  const supports = (contents.get('support') ?? []) as readonly Support[];
  const footings = (contents.get('footing') ?? []) as readonly Footing[];
  if (criteria === undefined || survey === undefined) return null;
  return (
    unlessRefused(() => beam && beamPictures('opening', { survey, criteria, beam, supports, footings })[0]) ??
    unlessRefused(() => surveyPicture('opening', survey, criteria)) ??
    null
  );
}

function draw(kind: ItemKind, content: unknown, grounds: Grounds): readonly Picture[] {
  const criteria = grounds.get('criteria') as Criteria | undefined;
  const survey = grounds.get('survey') as Survey | undefined;
  if (criteria === undefined) return [];
  const pictures = unlessRefused((): readonly Picture[] => {
    if (kind === 'fastening') {
      const row = content as FasteningRow;
      return [nailingPicture('row', row, criteria.editions, fastenerWords(row))];
    }
    if (kind === 'survey') return [surveyPicture('survey', content as Survey, criteria)];
    if (survey === undefined) return [];
    if (kind === 'support') {
      const beam = grounds.get('beam') as Beam | undefined;
      if (beam === undefined) return [];
      const { editions } = criteria;
      const supports = [content as Support];
      return [layoutPicture('layout', layOutOpening({ survey, beam, supports, footings: [], editions }))];
    }
    return beamPictures('beam', { survey, criteria, beam: content as Beam, supports: [], footings: [] });
  });
  return pictures ?? [];
}

/** A picture is a help, not the record: what can't be drawn is still shown in words and numbers. */
function unlessRefused<Drawn>(make: () => Drawn): Drawn | undefined {
  try {
    return make();
  } catch (error) {
    if (error instanceof Refusal) return undefined;
    throw error;
  }
}
