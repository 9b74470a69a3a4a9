import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { reopenedSteps } from '../../inspection/reopened.ts';
import { waitingCorrections } from '../../inspection/corrections.ts';
import { waitingVisits } from '../../inspection/waiting-visits.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf, SignInNeeded } from '../../web/plugins/access.ts';
import { readMismatches } from '../../site/deliveries/mismatches.ts';
import { ownersMatters } from '../../site/owner/waiting.ts';
import { searchItems } from '../items/list.ts';
import { KeptReads } from '../kept-reads.ts';
import { readOpenings } from './openings.ts';
import { workingRoles } from './sections.ts';
import { cursorText } from '../time-cursor.ts';
import { projectsOf } from './projects.ts';
import { readQuestionsPage, readStalePage, readWorklist, readWorklistPage, type Viewer } from './service.ts';

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

async function readHome(deps: Deps, viewer: Viewer, after: string | undefined) {
  const [worklist, visits, corrections, matters, reopened, mismatches, openings, projects] =
    await Promise.all([
      readWorklist(deps, viewer),
      waitingVisits(deps.prisma, viewer.personId, VISITS),
      waitingCorrections(deps.prisma, viewer.personId, CORRECTED),
      ownersMatters(deps.prisma, viewer.personId, MATTERS),
      reopenedSteps(deps.prisma, viewer.personId, REOPENED),
      readMismatches(deps, viewer),
      readOpenings(deps, viewer),
      projectsOf(deps.prisma, viewer, after),
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
      const key = [person.personId, after, request.beside?.heads].join(' ');
      return reply.keptPage(key, async () => ({
        template: 'record/home.njk',
        data: await homes.read(key, () => readHome(deps, person, after)),
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
