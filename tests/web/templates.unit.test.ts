import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import nunjucks from 'nunjucks';
import { describe, expect, it } from 'vitest';
import { addFilters } from '../../src/web/filters.ts';
import { templateFolder } from '../../src/web/plugins/views.ts';

const templates = readdirSync(templateFolder, { recursive: true, encoding: 'utf8' }).filter((name) =>
  name.endsWith('.njk'),
);
const environment = new nunjucks.Environment(new nunjucks.FileSystemLoader(templateFolder), {
  autoescape: true,
});
addFilters(environment);

describe('templates', () => {
  it.each(templates)('%s compiles', (name) => {
    expect(() => {
      environment.getTemplate(name, true);
    }).not.toThrow();
  });

  it('none switches escaping off, but for drawings made by our own builders', () => {
    const unsafe = templates.filter((name) =>
      /\|\s*safe\b/.test(readFileSync(path.join(templateFolder, name), 'utf8')),
    );
    expect(unsafe).toEqual(['parts/drawing.njk']);
  });

  it('none carries inline style or script', () => {
    for (const name of templates) {
      const text = readFileSync(path.join(templateFolder, name), 'utf8');
      // A letter is no page: mail programs take style in no other way, and no script at all.
      const isLetter = /^notify\/.*\.html\.njk$/.test(name);
      expect(text, name).not.toMatch(/<style|\son[a-z]+="|<script(?![^>]*src=)/);
      if (!isLetter) expect(text, name).not.toMatch(/\sstyle="|<style|\son[a-z]+="|<script(?![^>]*src=)/);
    }
  });
});
