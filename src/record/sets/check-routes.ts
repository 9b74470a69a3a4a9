import type { FastifyInstance } from 'fastify';
import QRCode from 'qrcode';
import { idOr404 } from '../../people/routes.ts';
import type { Deps } from '../../web/deps.ts';
import { actorOf, SignInNeeded } from '../../web/plugins/access.ts';
import { checkSets, readAsked } from './check.ts';
import { readSet } from './read.ts';

/** Is the sheet in my hand still in force? By the number on it, its hash, or the code that holds this address. */
export async function setCheckRoutes(app: FastifyInstance, deps: Deps): Promise<void> {
  app.get<{ Querystring: { set?: unknown } }>(
    '/set-check',
    { config: { access: 'set.check' } },
    async (request, reply) => {
      const { person } = request;
      if (person === null) throw new SignInNeeded();
      const text = typeof request.query.set === 'string' ? request.query.set.slice(0, 100) : '';
      const asked = readAsked(text);
      const errors: Record<string, string> =
        text.trim() === '' || asked !== null
          ? {}
          : {
              set: 'Type the number of the set, or at least the first 8 signs of its hash (0 to 9, a to f).',
            };
      if (Object.keys(errors).length > 0) reply.status(422);
      return reply.page('record/set-check.njk', {
        form: { values: { set: text }, errors },
        asked: asked !== null,
        found: asked === null ? [] : await checkSets(deps, person, asked),
      });
    },
  );

  /** The code on a printed set: it leads to the check above. */
  app.get<{ Params: { setId: string } }>(
    '/projects/:projectId/sets/:setId/code.svg',
    { config: { access: 'set.read' } },
    async (request, reply) => {
      const { hash } = await readSet(deps, actorOf(request), { setId: idOr404(request.params.setId) });
      const url = `${deps.config.publicUrl}/set-check?set=${hash.slice(0, 12)}`;
      return reply
        .type('image/svg+xml')
        .send(await QRCode.toString(url, { type: 'svg', margin: 2, errorCorrectionLevel: 'M' }));
    },
  );
}
