import type { FasteningRow } from '../../engineering/fasteners/index.ts';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import { layOutOpening } from '../../engineering/layout/index.ts';
import type { Beam, Footing, Support } from '../../engineering/proposal/design.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import { unlessRefused } from '../../engineering/trace/index.ts';
import {
  beamLoadPicture,
  beamPictures,
  layoutPicture,
  nailingPicture,
  surveyPicture,
  type Picture,
} from '../../report/pictures/index.ts';
import { fastenerWords } from '../kinds/fastening/kind.ts';
import type { Transaction } from '../events/append.ts';
import { drawnOnce, drawnOnceOrNot } from './kept-pictures.ts';
import type { ItemKind } from '../kinds/definition.ts';
import type { RecordedGround } from '../staleness/rules.ts';
import type { RecordDeps } from '../use-case.ts';
import { newestContents } from '../versions/newest-contents.ts';

type Grounds = ReadonlyMap<ItemKind, unknown>;

/** Kinds that have something to draw; for all others no version is looked up. */
const drawn: ReadonlySet<ItemKind> = new Set(['survey', 'beam', 'fastening', 'support']);

/** What a picture is drawn from besides the item itself; the beam only where the item rests on it. */
const grounding = ['survey', 'criteria', 'beam'] as const satisfies readonly ItemKind[];

/** A version to be drawn as it was made. */
export interface DrawnVersion {
  readonly kind: ItemKind;
  readonly content: unknown;
  readonly restsOn: readonly RecordedGround[];
  /** By what a survey's loads are drawn, since it rests on nothing; left out: the criteria as they are now. */
  readonly criteria?: unknown;
  /** Begins the ids of its drawings, where several versions stand on one page. */
  readonly idPrefix?: string;
}

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
  const { content, restsOn } = version;
  const [pictures] = await picturesOfVersions(deps.prisma, projectId, [{ kind, content, restsOn }]);
  return pictures ?? [];
}

/** The pictures of several versions of one project, in their order; as many queries for many as for one. */
export async function picturesOfVersions(
  tx: Pick<Transaction, 'version' | 'item'>,
  projectId: string,
  versions: readonly DrawnVersion[],
): Promise<readonly (readonly Picture[])[]> {
  const wanted = new Map(
    versions
      .flatMap((version) => (drawn.has(version.kind) ? groundsToDraw(version) : []))
      .map(({ itemId, number }) => [`${itemId} ${number}`, { itemId, number }]),
  );
  const rows =
    wanted.size === 0
      ? []
      : await tx.version.findMany({
          where: { projectId, OR: [...wanted.values()] },
          select: { itemId: true, number: true, content: true, item: { select: { kind: true } } },
        });
  const asks = versions.some(({ kind, criteria }) => kind === 'survey' && criteria === undefined);
  const now = asks ? await newestContents(tx, projectId, null, ['criteria']) : undefined;
  const found = new Map(
    rows.map((row) => [
      `${row.itemId} ${row.number}`,
      [row.item.kind, JSON.parse(row.content) as unknown] as const,
    ]),
  );
  return versions.map((version) => {
    if (!drawn.has(version.kind)) return [];
    if (version.kind === 'survey') {
      const criteria = version.criteria ?? now?.get('criteria')?.[0];
      return draw('survey', version.content, new Map([['criteria', criteria]]), version.idPrefix);
    }
    const grounds = groundsToDraw(version).flatMap(({ itemId, number }) => {
      const ground = found.get(`${itemId} ${number}`);
      return ground === undefined ? [] : [ground];
    });
    return draw(version.kind, version.content, new Map(grounds), version.idPrefix);
  });
}

function groundsToDraw({ restsOn }: Pick<DrawnVersion, 'restsOn'>): { itemId: string; number: number }[] {
  return restsOn
    .filter(({ on }) => grounding.some((kind) => kind === on.kind))
    .map(({ on }) => ({ itemId: on.itemId, number: on.number }));
}

/** The pictures of what is being typed, on what it will rest on. Pure. */
export function picturesOfPreview(kind: ItemKind, content: unknown, grounds: Grounds): readonly Picture[] {
  return drawn.has(kind) ? draw(kind, content, grounds) : [];
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
  return drawnOnceOrNot(
    ['opening', survey, criteria, beam, supports, footings],
    () =>
      unlessRefused(
        () => beam && beamLoadPicture('opening', { survey, criteria, beam, supports, footings }),
      ) ?? unlessRefused(() => surveyPicture('opening', survey, criteria)),
  );
}

function draw(kind: ItemKind, content: unknown, grounds: Grounds, idPrefix = ''): readonly Picture[] {
  return drawnOnce([kind, idPrefix, content, ...grounding.map((ground) => grounds.get(ground))], () =>
    drawAnew(kind, content, grounds, idPrefix),
  );
}

function drawAnew(kind: ItemKind, content: unknown, grounds: Grounds, idPrefix: string): readonly Picture[] {
  const criteria = grounds.get('criteria') as Criteria | undefined;
  const survey = grounds.get('survey') as Survey | undefined;
  if (criteria === undefined) return [];
  // A picture is a help, not the record: what can't be drawn is still shown in words and numbers.
  const pictures = unlessRefused((): readonly Picture[] => {
    if (kind === 'fastening') {
      const row = content as FasteningRow;
      return [nailingPicture(`${idPrefix}row`, row, criteria.editions, fastenerWords(row))];
    }
    if (kind === 'survey') return [surveyPicture(`${idPrefix}survey`, content as Survey, criteria)];
    if (survey === undefined) return [];
    if (kind === 'support') {
      const beam = grounds.get('beam') as Beam | undefined;
      if (beam === undefined) return [];
      const { editions } = criteria;
      const supports = [content as Support];
      return [
        layoutPicture(`${idPrefix}layout`, layOutOpening({ survey, beam, supports, footings: [], editions })),
      ];
    }
    return beamPictures(`${idPrefix}beam`, {
      survey,
      criteria,
      beam: content as Beam,
      supports: [],
      footings: [],
    });
  });
  return pictures ?? [];
}
