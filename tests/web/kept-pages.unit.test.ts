import { describe, expect, test } from 'vitest';
import { KeptPages } from '../../src/web/plugins/kept-pages.ts';

describe('kept pages', () => {
  test('are kept for a minute from when each was made, whatever the clock’s minute', () => {
    let seconds = 64;
    const pages = new KeptPages(() => seconds * 1000);
    const first = pages.keep('first', '<p>first</p>');
    seconds += 30;
    const second = pages.keep('second', '<p>second</p>');
    seconds += 29;
    expect(pages.find('first')).toBe(first);
    seconds += 2;
    expect(pages.find('first')).toBeUndefined();
    expect(pages.find('second')).toBe(second);
    seconds += 30;
    expect(pages.find('second')).toBeUndefined();
  });

  test('are the very words that were kept', () => {
    expect(new KeptPages().keep('one', '<p>½ × 3 in</p>').toString()).toBe('<p>½ × 3 in</p>');
  });
});
