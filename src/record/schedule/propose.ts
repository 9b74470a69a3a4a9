import type { Actor } from '../../actor.ts';
import { judgeRow, type FasteningRow, type RowJudgement } from '../../engineering/fasteners/index.ts';
import type { Criteria } from '../../engineering/proposal/criteria.ts';
import type { Beam, Footing, Hanger, Shoring, Support } from '../../engineering/proposal/design.ts';
import { proposeFastening } from '../../engineering/proposal/fastening-context.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import { Refusal, type Notice } from '../../engineering/trace/index.ts';
import { Refused } from '../../problems.ts';
import { knownId } from '../identifier.ts';
import { asMember, type RecordDeps } from '../use-case.ts';
import { compareProposed, type Compared, type KnownRow } from './compare.ts';
import { newestContents } from '../versions/newest-contents.ts';
import { openingHead, rowsThere, type OpeningHead } from './store.ts';

export interface ProposedRow {
  readonly compared: Compared;
  readonly judgement: RowJudgement;
}

export interface Proposal {
  readonly opening: OpeningHead;
  readonly rows: readonly ProposedRow[];
  readonly notices: readonly Notice[];
  /** Rows of the record that no proposed row stands for; they stay. */
  readonly others: readonly KnownRow[];
}

/**
 * The rows that the newest design of an opening asks for, each judged and held against the rows that are there.
 *
 * @throws Refused where criteria, survey or beam are missing, or the engine refuses the design as it stands.
 */
export async function readProposal(
  deps: RecordDeps,
  actor: Actor,
  input: { readonly openingId: string },
): Promise<Proposal> {
  const openingId = knownId(input.openingId, 'That opening');
  const { opening, there, contents } = await asMember(
    deps,
    actor,
    'schedule.propose',
    async (tx, present) => {
      const { projectId } = present;
      return {
        opening: await openingHead(tx, { projectId }, openingId),
        there: await rowsThere(tx, deps.kinds, projectId, openingId),
        contents: await newestContents(tx, projectId, openingId, [
          'criteria',
          'survey',
          'beam',
          'support',
          'footing',
          'hanger',
          'shoring',
        ]),
      };
    },
  );
  const [criteria] = (contents.get('criteria') ?? []) as Criteria[];
  const [survey] = (contents.get('survey') ?? []) as Survey[];
  const [beam] = (contents.get('beam') ?? []) as Beam[];
  const [shoring] = (contents.get('shoring') ?? []) as Shoring[];
  if (criteria === undefined || survey === undefined || beam === undefined) {
    throw new Refused('Enter criteria, survey and beam first: the rows are computed from them.');
  }
  const design = {
    criteria,
    survey,
    beam,
    supports: (contents.get('support') ?? []) as Support[],
    footings: (contents.get('footing') ?? []) as Footing[],
    hangers: (contents.get('hanger') ?? []) as Hanger[],
    ...(shoring === undefined ? {} : { shoring }),
    entered: there.map((one) => one.row),
  };
  const { rows, notices } = orRefused(() => proposeFastening(design));
  const compared = compareProposed(rows, there);
  const taken = new Set(compared.flatMap((one) => (one.is === 'new' ? [] : [one.there.itemId])));
  return {
    opening,
    rows: compared.map((one) => ({ compared: one, judgement: judged(one.row, criteria) })),
    notices,
    others: there.filter((one) => !taken.has(one.itemId)),
  };
}

function judged(row: FasteningRow, criteria: Criteria): RowJudgement {
  return orRefused(() => judgeRow(row, criteria.editions));
}

function orRefused<Result>(work: () => Result): Result {
  try {
    return work();
  } catch (error) {
    if (error instanceof Refusal)
      throw new Refused(`The design can’t be fastened as it stands: ${error.message}`);
    throw error;
  }
}
