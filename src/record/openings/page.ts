import { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { galleryOf } from '../../attachments/store.ts';
import { unansweredCorrections } from '../../inspection/corrections.ts';
import { roleMay } from '../../people/permissions.ts';
import type { Deps } from '../../web/deps.ts';
import type { ReadPage } from '../../web/plugins/views.ts';
import type { Begun } from '../drafts/new-items.ts';
import { workOutOfOrder } from '../out-of-order.ts';
import { pictureOfOpening } from '../pages/pictures.ts';
import { listSetHeads } from '../sets/read.ts';
import { readTogether, type ProjectViewer } from '../read-together.ts';
import { cursorText, readNumberCursor } from '../time-cursor.ts';
import { asMember } from '../use-case.ts';
import { checksNotMet } from '../versions/checks-not-met.ts';
import { findOpening } from './find.ts';
import { facesToHang, rolesThere } from './next-after-saving.ts';
import { nextSteps } from './next-steps.ts';
import { readOverview } from './overview.ts';

/** Where the page's own lists go on. */
export const openingQuery = z.object({ files: cursorText, before: cursorText });

export type AskedOpening = z.infer<typeof openingQuery>;

/** Everything that the page of an opening shows this member; for the owner, a brief one. */
export async function readOpening(
  deps: Deps,
  actor: Actor,
  openingId: string,
  { files, before }: AskedOpening,
  begun: readonly Begun[],
): Promise<ReadPage> {
  const { prisma } = deps;
  const { projectId, role } = actor;
  const opening = await findOpening(prisma, actor, openingId);
  // All at once: one after another, each would wait for its turn among everybody else's.
  const [heads, gallery, more, corrections] = await Promise.all([
    listSetHeads(deps, actor, { openingId, before: before === undefined ? null : readNumberCursor(before) }),
    galleryOf(prisma, actor, 'opening', openingId, files),
    roleMay(role, 'item.read')
      ? asMember(deps, actor, 'item.read', () =>
          readTogether(actor, ['opening page', openingId], () => readMore(deps, actor, openingId)),
        )
      : null,
    role === 'contractor' ? unansweredCorrections(prisma, actor, openingId) : [],
  ]);
  if (more === null) return { template: 'record/opening-brief.njk', data: { opening, heads, gallery } };
  const { overview, criteria, picture, outOfOrder, roles } = more;
  const kinds = deps.kinds.all.filter((definition) => definition.kind !== 'criteria');
  const toSubmit = overview.unsubmitted.flatMap(({ newest }) => newest?.versionId ?? []);
  const [faces, notMet] = await Promise.all([
    facesToHang(prisma, projectId, openingId, overview.counts),
    roleMay(role, 'submission.create') ? checksNotMet(prisma, projectId, toSubmit) : {},
  ]);
  const data = {
    opening,
    heads,
    gallery,
    picture,
    groups: kinds.map(({ kind, title, reviewable }) => ({
      kind,
      title,
      reviewable,
      hasForm: deps.forms.has(kind),
      ...overview.ofKind(kind),
    })),
    steps: nextSteps(
      role,
      openingId,
      {
        hasCriteria: criteria !== null,
        facesToHang: faces,
        roles,
        newestSet: heads.newestNumber,
        corrections,
        returned: kinds
          .flatMap(({ kind }) => overview.ofKind(kind).items)
          .filter(({ state }) => state.is === 'returned')
          .map(({ facts }) => ({ itemId: facts.itemId, title: facts.title })),
      },
      overview.counts,
    ),
    unsubmitted: overview.unsubmitted,
    notMet,
    unsubmittedCount: overview.counts.of('not submitted'),
    toMark: overview.counts.of('awaiting mark', 'withdrawn'),
    stale: overview.stale,
    outOfOrder,
    begun: begun.map((one) => ({ ...one, title: deps.kinds.get(one.kind).title })),
    may: {
      create: roleMay(role, 'item.create'),
      submit: roleMay(role, 'submission.create'),
      mark: roleMay(role, 'mark.create'),
      issue: roleMay(role, 'set.issue'),
      share: roleMay(role, 'attachment.share'),
    },
  };
  return { template: 'record/opening.njk', data };
}

/** What only those who may read items see, each of them the same. */
async function readMore(deps: Deps, viewer: ProjectViewer, openingId: string) {
  const { prisma } = deps;
  const { projectId } = viewer;
  const [overview, criteria, picture, outOfOrder, roles] = await Promise.all([
    readOverview(deps, viewer, openingId),
    prisma.item.findFirst({ where: { projectId, kind: 'criteria' }, select: { id: true } }),
    pictureOfOpening(deps, projectId, openingId),
    workOutOfOrder(prisma, projectId, openingId),
    rolesThere(prisma, projectId),
  ]);
  return { overview, criteria, picture, outOfOrder, roles };
}
