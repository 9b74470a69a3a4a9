import { z } from 'zod';
import { sayableWords } from '../../record/marks/rules.ts';
import { markVersion } from '../../record/marks/service.ts';
import { readVersion } from '../../record/versions/read.ts';
import type { Deps } from '../../web/deps.ts';
import { operation, type Operation } from '../operation.ts';
import { hashSchema, noQuery } from '../schemas/common.ts';
import { madeMarkSchema } from '../schemas/record.ts';
import { proseSchema, versionParams } from '../schemas/sent.ts';

/** The engineer's word on one version. `revised` is said by saving one's own version. */
export function markOperations(deps: Deps): Operation[] {
  return [
    operation(
      {
        id: 'markVersion',
        method: 'POST',
        path: '/projects/{projectId}/items/{itemId}/versions/{number}/marks',
        tag: 'Items',
        summary: 'Say a word on one version',
        description:
          'It names the hash of what was seen, and how many words were on it: nobody marks what they have not seen. The same word twice is one mark. A record of review, never a seal.',
        access: 'mark.create',
        scope: 'mark',
        status: 201,
        conflicts: true,
      },
      {
        params: versionParams,
        query: noQuery,
        body: z.strictObject({
          word: z.enum(sayableWords),
          hash: hashSchema.describe('Of the version that was seen.'),
          expectedMarkNumber: z.int().min(0).max(1_000_000).describe('How many words it bore; 0 for none.'),
          reason: proseSchema.default('').describe('“returned” and “withdrawn” need one.'),
        }),
        answer: madeMarkSchema,
      },
      async ({ actor: acting, params: { itemId, number }, body }) => {
        const actor = acting();
        const { version } = await readVersion(deps, actor, { itemId, number: Number(number) });
        const outcome = await markVersion(deps, actor, { versionId: version.versionId, ...body });
        const { markId, versionId, number: markNumber, word, repeated } = outcome;
        return {
          body: { markId, versionId, number: markNumber, word, repeated },
          location: `/projects/${actor.projectId}/items/${itemId}/versions`,
        };
      },
    ),
  ];
}
