import { z } from 'zod';
import { shownOutcome } from '../../calc/shown.ts';
import { openingInputSchema } from '../../engineering/proposal/input.ts';
import { calculateOpening } from '../../engineering/proposal/opening.ts';
import { operation, type Operation } from '../operation.ts';
import { noParams, noQuery } from '../schemas/common.ts';

/** A part of the calculation: its checks, each with its clause and its steps, and its figures. */
const partSchema = z.looseObject({});

/** The whole calculation of one opening, without a project: nothing is kept. */
export function calculationOperations(): Operation[] {
  return [
    operation(
      {
        id: 'calculate',
        method: 'POST',
        path: '/calculations',
        tag: 'Calculations',
        summary: 'Calculate an opening, whole; nothing is kept',
        description:
          'Load take-off, beam, supports, footings, fastening rows and shoring, each check with its clause. Lengths are inches. A ratio without any capacity is null.',
        access: 'api.use',
        scope: 'read',
        status: 200,
        heavy: true,
      },
      {
        params: noParams,
        query: noQuery,
        body: openingInputSchema,
        answer: z.looseObject({
          passes: z.boolean(),
          governing: partSchema.optional().describe('The check with the highest ratio.'),
          beam: partSchema,
          supports: z.array(partSchema),
          footings: z.array(partSchema),
          rows: z.array(partSchema),
          shoring: partSchema.optional(),
        }),
      },
      async ({ body }) => {
        const outcome = shownOutcome(calculateOpening(body));
        // Plain data from here on: steps render their substitution when asked, JSON carries formula and values.
        return { body: JSON.parse(JSON.stringify(outcome)) as Record<string, unknown> & Parts };
      },
    ),
  ];
}

interface Parts {
  passes: boolean;
  governing?: Record<string, unknown>;
  beam: Record<string, unknown>;
  supports: Record<string, unknown>[];
  footings: Record<string, unknown>[];
  rows: Record<string, unknown>[];
  shoring?: Record<string, unknown>;
}
