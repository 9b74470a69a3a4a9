import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { minuteText } from '../../src/house-time.ts';
import { templateFolder } from '../../src/web/plugins/views.ts';
import { renderString } from './render-template.ts';

/** The browser's module; plain script, so it is imported by address and its function is named here. */
const inBrowser = (await import(new URL('../../src/web/assets/moments.js', import.meta.url).href)) as {
  minuteText: (moment: string) => string;
};

const at = new Date('2026-11-26T14:05:00Z');

describe('a moment on a page', () => {
  it.each([
    ['moment', 'minute'],
    ['momentDay', 'day'],
  ])('%s says in its markup when it was, for the browser to write it', (filter, shows) => {
    const markup = renderString(`{{ at | ${filter} }}`, { at });
    expect(markup).toMatch(
      new RegExp(
        `^<time datetime="2026-11-26T14:05:00\\.000Z" data-moment="${shows}">Nov 2[67], 2026[^<]*</time>$`,
      ),
    );
  });

  it('is a moment or nothing: no words get into the markup', () => {
    expect(() => renderString('{{ at | moment }}', { at: '"><script>' })).toThrow(/Invalid time value/);
  });

  it('is written alike by the service and by the browser, but for the zone', () => {
    expect(inBrowser.minuteText(at.toISOString())).toBe(
      minuteText(at, new Intl.DateTimeFormat().resolvedOptions().timeZone),
    );
  });

  it('is on no page without the markup', () => {
    const bare = readdirSync(templateFolder, { recursive: true, encoding: 'utf8' }).filter(
      (name) =>
        name.endsWith('.njk') && /\|\s*date\b/.test(readFileSync(path.join(templateFolder, name), 'utf8')),
    );
    expect(bare).toEqual([]);
  });

  it('of a camera, whose zone nobody knows, is left as its clock had it', () => {
    expect(renderString('{{ at | cameraTime }}', { at })).toBe('Nov 26, 2026, 2:05 PM');
  });
});
