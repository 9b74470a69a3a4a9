import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { reopenedSteps } from '../../inspection/reopened.ts';
import { waitingCorrections } from '../../inspection/corrections.ts';
import { waitingVisits } from '../../inspection/waiting-visits.ts';
import type { Role } from '../../people/roles.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf, SignInNeeded, type HeadedProject } from '../../web/plugins/access.ts';
import { readMismatches } from '../../site/deliveries/mismatches.ts';
import { ownersMatters } from '../../site/owner/waiting.ts';
import { searchItems } from '../items/list.ts';
import { KeptReads } from '../kept-reads.ts';
import { readOpenings } from './openings.ts';
import { workingRoles } from './sections.ts';
import { cursorText } from '../time-cursor.ts';
import { projectsOf } from './projects.ts';
import {
  nothingWaits,
  readQuestionsPage,
  readStalePage,
  readWorklist,
  readWorklistPage,
  type Viewer,
} from './service.ts';

const pageSchema = z.object({
  role: z.enum(workingRoles),
  section: z.string().max(40),
  after: z.string().max(80),
});

/** Steps held again that the first page lists; the count says how many there are. */
const REOPENED = 20;

/** Visits under way and called for that it lists, in the same way. */
const VISITS = 20;

/** Openings with corrections that it lists. */
const CORRECTED = 20;

/** Words between owner and contractor that it lists. */
const MATTERS = 20;

/** Each some ten kilobytes. */
const HOMES_KEPT = 500;

async function readHome(
  deps: Deps,
  viewer: Viewer,
  headed: ReadonlyMap<string, HeadedProject>,
  after: string | undefined,
) {
  const { prisma } = deps;
  const { personId } = viewer;
  const held = new Set([...headed.values()].map(({ role }) => role));
  const isOneOf = (...some: readonly Role[]) => some.some((role) => held.has(role));
  const viewerOf = (projectId: string) => headed.get(projectId)?.viewer ?? { projectId };
  // What only another role would have to deal with need not be asked for.
  const [worklist, visits, corrections, matters, reopened, mismatches, openings, projects] =
    await Promise.all([
      isOneOf('contractor', 'engineer') ? readWorklist(deps, viewer) : nothingWaits,
      isOneOf('inspector') ? waitingVisits(prisma, personId, VISITS) : [],
      isOneOf('contractor') ? waitingCorrections(prisma, personId, CORRECTED, viewerOf) : [],
      isOneOf('owner', 'contractor') ? ownersMatters(prisma, personId, MATTERS) : [],
      isOneOf('contractor', 'engineer', 'inspector') ? reopenedSteps(prisma, personId, REOPENED) : [],
      isOneOf('contractor', 'engineer') ? readMismatches(prisma, personId, viewerOf) : [],
      readOpenings(deps, viewer),
      projectsOf(prisma, viewer, after),
    ]);
  const byRole = (['owner', 'contractor'] as const)
    .map((role) => ({ role, list: matters.filter((matter) => matter.role === role) }))
    .filter(({ list }) => list.length > 0);
  const onlyOwner = openings.every(({ role }) => role === 'owner');
  return {
    worklist,
    visits,
    corrections,
    matters: byRole,
    onlyOwner,
    reopened,
    mismatches,
    openings,
    projects,
  };
}

export async function worklistRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  const homes = new KeptReads<Awaited<ReturnType<typeof readHome>>>(HOMES_KEPT);

  /** Each person's first page: what waits for me, in every project, in every role. */
  app.get<{ Querystring: { projects?: string } }>(
    '/',
    { config: { access: 'home.read', readsHeads: true } },
    async (request, reply) => {
      const { person } = request;
      if (person === null) return reply.page('web/welcome.njk');
      const after = cursorText.parse(request.query.projects);
      const heads = request.beside?.heads ?? '';
      const page = [person.personId, after].join(' ');
      const key = `${page} ${heads}`;
      return reply.keptPage(key, async () => ({
        template: 'record/home.njk',
        data: await homes.read(page, heads, () => readHome(deps, person, request.headedProjects(), after)),
      }));
    },
  );

  app.get('/waiting', { config: { access: 'account.manage' } }, async (request, reply) => {
    const { person } = request;
    if (person === null) throw new SignInNeeded();
    const asked = pageSchema.safeParse(request.query);
    if (!asked.success) return reply.redirect('/', 303);
    const { section } = asked.data;
    const read =
      section === 'out of date'
        ? readStalePage
        : section === 'open questions'
          ? readQuestionsPage
          : readWorklistPage;
    return reply.page('record/waiting.njk', { section: await read(deps, person, asked.data) });
  });

  app.get<{ Querystring: { q?: string; after?: string } }>(
    '/projects/:projectId/search',
    { config: { access: 'item.search' } },
    async (request, reply) => {
      const text = (request.query.q ?? '').trim().slice(0, 200);
      const after = cursorText.parse(request.query.after);
      const found =
        text === ''
          ? null
          : await searchItems(deps, actorOf(request), {
              words: text,
              ...(after === undefined ? {} : { after }),
            });
      return reply.page('record/search.njk', {
        text,
        found,
        pages: found === null ? {} : Object.fromEntries(found.pages),
      });
    },
  );
}
