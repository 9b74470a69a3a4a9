import { describe, expect, it } from 'vitest';
import { statementNames } from '../../src/database/statement-names.ts';

const asked = (name: ReturnType<typeof statementNames>, sql: string, values = 1, times = 4) =>
  Array.from({ length: times }, () => name({ sql, args: Array.from({ length: values }, () => 1) })).at(-1);

describe('the names of statements', () => {
  it('are given to what comes again and again, one for each text, of a length that PostgreSQL takes', () => {
    const name = statementNames();
    expect(asked(name, 'SELECT 1', 1, 3)).toBe('');
    const first = asked(name, 'SELECT 1', 1, 1);
    expect(first).toMatch(/^lintelbook .{32}$/);
    expect(asked(name, 'SELECT 1', 1, 1)).toBe(first);
    expect(asked(name, 'SELECT 2')).not.toBe(first);
  });

  it('are the same in every process, since connections of a pooler are shared', () => {
    expect(asked(statementNames(), 'SELECT 1')).toBe(asked(statementNames(), 'SELECT 1'));
  });

  it('are not given to what needs no plan', () => {
    for (const text of ['BEGIN', 'COMMIT', 'ROLLBACK', 'SAVEPOINT "a"', 'SET LOCAL x = 1']) {
      expect(asked(statementNames(), text, 0)).toBe('');
    }
    expect(asked(statementNames(), '\n  with a AS (SELECT 1) SELECT * FROM a')).not.toBe('');
  });

  it('are not given to long lists of values, and to no more than some hundred texts', () => {
    const name = statementNames();
    expect(asked(name, 'SELECT long', 41)).toBe('');
    for (let text = 0; text < 400; text += 1) asked(name, `SELECT ${text}`);
    const given = Array.from({ length: 400 }, (_, text) => asked(name, `SELECT ${text}`, 1, 1));
    expect(given.filter((one) => one !== '')).toHaveLength(300);
  });
});
