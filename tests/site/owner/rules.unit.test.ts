import { describe, expect, it } from 'vitest';
import type { VisitKind, VisitOutcome } from '../../../src/database/generated/client.ts';
import type { CheckStatus } from '../../../src/inspection/status.ts';
import { outcomeWords, safetyWords } from '../../../src/site/owner/safety.ts';
import { progressStages } from '../../../src/site/owner/stages.ts';
import { waitsOn } from '../../../src/site/owner/words.ts';
import { jargonIn } from './jargon.ts';

const day = (number: number) => new Date(Date.UTC(2026, 10, number));
const visit = (kind: VisitKind, outcome: VisitOutcome, on: number) => ({ kind, outcome, closedAt: day(on) });

describe('is it safe', () => {
  it('says what the record knows, and the last word counts', () => {
    expect(safetyWords(0, []).state).toBe('nothing approved');
    expect(safetyWords(1, []).state).toBe('approved');
    const braced = visit('shoring', 'passed', 1);
    expect(safetyWords(1, [visit('shoring', 'correction_needed', 1)]).state).toBe('approved');
    expect(safetyWords(1, [braced]).state).toBe('held up');
    expect(safetyWords(1, [visit('shoring', 'correction_needed', 2), braced]).state).toBe('approved');
    expect(safetyWords(2, [visit('framing', 'stop_work', 3), braced]).state).toBe('stop');
    expect(
      safetyWords(2, [visit('framing', 'stop_work', 3), visit('framing', 'passed', 4), braced]).state,
    ).toBe('held up');
    expect(safetyWords(2, [braced, visit('final', 'passed', 5)]).state).toBe('finished');
    expect(safetyWords(2, [braced, visit('final', 'partial', 5)]).state).toBe('held up');
    // What the contractor logged counts at once, in its order or not.
    expect(safetyWords(1, [], ['shoring']).state).toBe('held up');
    expect(safetyWords(0, [], ['wall_out']).state).toBe('held up');
    expect(safetyWords(2, [braced], ['shoring', 'wall_out', 'shoring_out']).state).toBe('on the beam');
    expect(safetyWords(2, [visit('framing', 'stop_work', 3)], ['shoring_out']).state).toBe('stop');
  });
});

describe('building and inspection', () => {
  it('are not done while a visit is open, though every point of it is in order', () => {
    const dates = { surveyed: null, submitted: null, issued: null, visited: null };
    const statuses = [{ state: 'pass', accepted: null }] as unknown as readonly CheckStatus[];
    const last = (openVisits: number) =>
      progressStages({ standings: [], setNumber: 1, setGaps: 0, statuses, openVisits, dates }).at(-1)!;
    expect(last(1)).toMatchObject({ state: 'under way', waitsOn: 'the inspector' });
    expect(last(1).words).toBe('1 of 1 points are in order. The inspector has not finished the visit yet.');
    expect(last(0)).toMatchObject({ state: 'done', words: '1 of 1 points are in order.' });
  });
});

describe('whose turn it is', () => {
  it('is the other one’s until they have spoken last', () => {
    expect(waitsOn(['owner'])).toBe('contractor');
    expect(waitsOn(['owner', 'contractor'])).toBeNull();
    expect(waitsOn(['owner', 'contractor', 'owner'])).toBe('contractor');
    expect(waitsOn(['contractor'])).toBe('owner');
    expect(waitsOn(['contractor', 'owner'])).toBeNull();
  });
});

describe('the page’s own words', () => {
  it('hold no jargon, wherever the job stands', () => {
    const words: string[] = [];
    const dates = { surveyed: null, submitted: null, issued: null, visited: null };
    for (const setNumber of [0, 1]) {
      for (const setGaps of [0, 1, 2]) {
        const stages = progressStages({
          standings: [],
          setNumber,
          setGaps,
          statuses: [],
          openVisits: 0,
          dates,
        });
        // What is to come is not told as done.
        for (const { state, title, words: said } of stages) {
          if (state === 'to come') expect(`${title}. ${said}`).not.toMatch(/\bwas\b|\bhas\b/);
        }
        words.push(...stages.flatMap((stage) => [stage.title, stage.words, stage.waitsOn]));
      }
      words.push(safetyWords(setNumber, []).words, safetyWords(setNumber, [], ['shoring_out']).words);
    }
    for (const kind of ['shoring', 'final', 'framing'] as const) {
      for (const outcome of [
        'passed',
        'partial',
        'correction_needed',
        'not_ready',
        'no_access',
        'stop_work',
      ] as const) {
        words.push(safetyWords(1, [visit(kind, outcome, 1)]).words, outcomeWords(outcome));
      }
    }
    expect(words.length).toBeGreaterThan(50);
    expect(jargonIn(words.join('\n'))).toEqual([]);
  });

  it('would be caught', () => {
    expect(jargonIn('The jack studs and 3-ply LVL carry 420 plf.')).toEqual(
      expect.arrayContaining(['jack', 'stud', 'ply', 'LVL', 'plf']),
    );
  });
});
