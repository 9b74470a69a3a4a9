import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { LAYERS } from '../../../../src/report/drawings/scaled/figure.ts';
import {
  atLargestScale,
  elevationFigure,
  figuresDxf,
  sectionFigure,
} from '../../../../src/report/drawings/scaled/index.ts';
import { drawnOpening } from './opening.ts';

const room = { widthIn: 10, heightIn: 7.5 };
const HOSTILE = `x\n0\nLINE\r8\n%%d ^J \u2028 \\P \ud800 "end"`;

function dxf(words = 'datum ‘left’ ≤ 3°'): string {
  const opening = drawnOpening();
  const drawn = {
    ...opening,
    beamWords: words,
    supportWords: { left: words, right: words },
    layout: { ...opening.layout, datum: words },
  };
  return figuresDxf([
    atLargestScale((scale) => elevationFigure(drawn, scale), room),
    atLargestScale((scale) => sectionFigure(drawn, 'left', scale), room),
    atLargestScale((scale) => sectionFigure(drawn, 'right', scale), room),
  ]);
}

type Group = readonly [code: number, value: string];
interface Entity {
  readonly type: string;
  readonly groups: readonly Group[];
}

/** The entities of a file by its group codes, as any reader takes it apart: a code on one line, its value on the next. */
function entitiesOf(file: string): readonly Entity[] {
  const lines = file.split(/\r?\n/);
  const groups: Group[] = [];
  for (let at = 0; at + 1 < lines.length; at += 2) groups.push([Number(lines[at]), lines[at + 1] ?? '']);
  expect(groups.every(([code]) => Number.isInteger(code))).toBe(true);
  expect(groups.at(-1)).toEqual([0, 'EOF']);
  const start = groups.findIndex(([code, value]) => code === 2 && value === 'ENTITIES');
  const found: { type: string; groups: Group[] }[] = [];
  for (const [code, value] of groups.slice(start + 1)) {
    if (code === 0 && value === 'ENDSEC') break;
    if (code === 0) found.push({ type: value, groups: [] });
    else found.at(-1)?.groups.push([code, value]);
  }
  return found;
}

const valuesOf = ({ groups }: Entity, code: number) =>
  groups.flatMap(([one, value]) => (one === code ? [value] : []));

describe('the DXF', () => {
  it('has the beam at its real place and size, in inches, on a layer of its own', () => {
    const file = dxf();
    expect(file).toMatch(/\$INSUNITS\r?\n\s*70\r?\n\s*1\r?\n/);
    const [beam] = entitiesOf(file).filter(
      (one) => one.type === 'LWPOLYLINE' && valuesOf(one, 8)[0] === 'BEAM',
    );
    const xs = valuesOf(beam!, 10).map(Number);
    const ys = valuesOf(beam!, 20).map(Number);
    expect([Math.min(...xs), Math.max(...xs)]).toEqual([15.5, 154.5]);
    expect([Math.min(...ys), Math.max(...ys)]).toEqual([91.5, 103.375]);
  });

  it('draws dimensions as lines and words', () => {
    const entities = entitiesOf(dxf());
    const of = (type: string) =>
      entities.filter((one) => one.type === type && valuesOf(one, 8)[0] === 'DIMENSIONS');
    expect(of('LINE').length).toBeGreaterThan(50);
    const words = of('TEXT').map((one) => valuesOf(one, 1)[0]);
    expect(words).toEqual(expect.arrayContaining([`10'-10" clear`, `11'-7"`, `7'-7 1/2"`]));
    expect(entities.some(({ type }) => type === 'DIMENSION')).toBe(false);
  });

  it('names only layers that it declares, and keeps words from becoming groups', () => {
    const plain = entitiesOf(dxf('x'));
    const hostile = entitiesOf(dxf(HOSTILE));
    for (const one of hostile) expect(LAYERS).toContain(valuesOf(one, 8)[0]);
    const kinds = (list: readonly Entity[]) =>
      list.filter(({ type }) => type !== 'TEXT').map(({ type }) => type);
    expect(kinds(hostile)).toEqual(kinds(plain));
    for (const one of hostile) {
      for (const words of valuesOf(one, 1)) expect(words).not.toMatch(/%%|\^|\\|[\p{Cc}\u2028]/u);
    }
  });
});

/** Outside the project: ezdxf of Debian (python3-ezdxf) reads the file and audits it. */
const AUDIT = `
import json, sys, ezdxf
from ezdxf import bbox
doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
space = doc.modelspace()
box = bbox.extents(space.query('*[layer=="BEAM"]'))
print(json.dumps({
  'errors': [e.message for e in audit.errors], 'fixes': [e.message for e in audit.fixes],
  'units': doc.header['$INSUNITS'],
  'layers': sorted(layer.dxf.name for layer in doc.layers),
  'types': sorted({e.dxftype() for e in space}),
  'beamLeft': box.extmin.x, 'texts': [e.dxf.text for e in space.query('TEXT')],
}))`;
const python = ['/usr/bin/python3', 'python3'].find(
  (one) => spawnSync(one, ['-c', 'import ezdxf']).status === 0,
);

it.skipIf(python === undefined)('is read by ezdxf and audited without an error (needs python3-ezdxf)', () => {
  const folder = mkdtempSync(path.join(tmpdir(), 'dxf-'));
  const file = path.join(folder, 'drawing.dxf');
  try {
    for (const words of ['datum ‘left’ ≤ 3°', HOSTILE]) {
      writeFileSync(file, dxf(words));
      const { stdout, stderr, status } = spawnSync(python ?? '', ['-c', AUDIT, file], { encoding: 'utf8' });
      expect(stderr).toBe('');
      expect(status).toBe(0);
      const read = JSON.parse(stdout) as Record<string, unknown> & { layers: string[]; texts: string[] };
      expect(read).toMatchObject({ errors: [], fixes: [], units: 1, beamLeft: 15.5 });
      expect(read.types).toEqual(['HATCH', 'LINE', 'LWPOLYLINE', 'TEXT']);
      expect(read.layers).toEqual(expect.arrayContaining([...LAYERS]));
      if (words.includes('≤')) expect(read.texts).toContain(words);
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
});
