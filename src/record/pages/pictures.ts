import type { Criteria } from '../../engineering/proposal/criteria.ts';
import type { Beam, Footing, Support } from '../../engineering/proposal/design.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import { unlessRefused } from '../../engineering/trace/index.ts';
import { beamLoadPicture, surveyPicture, type Picture } from '../../report/pictures/index.ts';
import type { Calculation } from '../calculation.ts';
import type { Transaction } from '../events/append.ts';
import { drawnKinds, shownFigures, type DrawnGround } from './draw-item.ts';
import { drawnOnce, drawnOnceOrNot } from './kept-pictures.ts';
import type { ItemKind } from '../kinds/definition.ts';
import type { RecordedGround } from '../staleness/rules.ts';
import type { RecordDeps } from '../use-case.ts';
import { newestContents } from '../versions/newest-contents.ts';

/** A version to be drawn as it was made. */
export interface DrawnVersion {
  readonly kind: ItemKind;
  readonly content: unknown;
  readonly restsOn: readonly RecordedGround[];
  /** As made then: drawings show figures of it. */
  readonly calculation: Calculation | null;
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
  version: Pick<DrawnVersion, 'content' | 'restsOn' | 'calculation'>,
): Promise<readonly Picture[]> {
  const { content, restsOn, calculation } = version;
  const [pictures] = await picturesOfVersions(deps.prisma, projectId, [
    { kind, content, restsOn, calculation },
  ]);
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
      .flatMap((version) => groundsToDraw(version))
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
      { kind: row.item.kind, content: JSON.parse(row.content) as unknown },
    ]),
  );
  return versions.map((version) => {
    const { kind, content, calculation, idPrefix } = version;
    if (kind === 'survey') {
      const criteria = version.criteria ?? now?.get('criteria')?.[0];
      const grounds: DrawnGround[] = criteria === undefined ? [] : [{ kind: 'criteria', content: criteria }];
      return draw(kind, content, grounds, calculation, idPrefix);
    }
    const grounds = groundsToDraw(version).flatMap(({ itemId, number }) => {
      const ground = found.get(`${itemId} ${number}`);
      return ground === undefined ? [] : [ground];
    });
    return draw(kind, content, grounds, calculation, idPrefix);
  });
}

/** Of what a version rests on, each version that its kind is drawn from. */
function groundsToDraw({
  kind,
  restsOn,
}: Pick<DrawnVersion, 'kind' | 'restsOn'>): { itemId: string; number: number }[] {
  const wanted = drawnKinds[kind]?.grounds ?? [];
  const each = new Map(
    restsOn
      .filter(({ on }) => wanted.includes(on.kind))
      .map(({ on: { itemId, number } }) => [`${itemId} ${number}`, { itemId, number }]),
  );
  return [...each.values()];
}

/** The pictures of what is being typed, on what it will rest on. Pure. */
export function picturesOfPreview(
  kind: ItemKind,
  content: unknown,
  grounds: readonly DrawnGround[],
  calculation: Calculation | null,
): readonly Picture[] {
  return draw(kind, content, grounds, calculation);
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

function draw(
  kind: ItemKind,
  content: unknown,
  given: readonly DrawnGround[],
  calculation: Calculation | null,
  idPrefix = '',
): readonly Picture[] {
  const drawn = drawnKinds[kind];
  if (drawn === undefined) return [];
  const grounds = given.flatMap((ground): DrawnGround[] =>
    drawn.grounds.includes(ground.kind) ? [{ kind: ground.kind, content: ground.content }] : [],
  );
  const figures = shownFigures(drawn, calculation);
  return drawnOnce(
    [kind, idPrefix, content, grounds, figures],
    () =>
      // A picture is a help, not the record: what can't be drawn is still shown in words and numbers.
      unlessRefused(() => drawn.draw({ content, grounds, figures, idPrefix })) ?? [],
  );
}
