import {
  demoBeam,
  demoCriteria,
  demoFootings,
  demoHangers,
  demoSupports,
  demoSurvey,
} from '../src/demo/cinder-ferry.ts';
import { layOutOpening } from '../src/engineering/layout/index.ts';
import { calculateBeam } from '../src/engineering/proposal/beam.ts';
import { calculationView } from '../src/record/pages/calculation-view.ts';
import type { CalculationSheet } from '../src/report/calculation-sheet/model.ts';
import { calculationSheetPdf } from '../src/report/calculation-sheet/pdf.ts';
import { figuresDxf, figureSvg, type DrawnOpening } from '../src/report/drawings/scaled/index.ts';
import { lyingSheet, viewsOf } from '../src/report/opening-drawings/views.ts';
import { figureOnPaper } from '../src/report/pdf/figure.ts';
import { makePdf } from '../src/report/pdf/make-pdf.ts';
import { sheetsOf } from '../src/report/pdf/title-block.ts';

/** What drawings and their sheets cost, as multiples of one calculation of the beam in the same run. */
const opening: DrawnOpening = {
  layout: layOutOpening({
    survey: demoSurvey,
    beam: demoBeam,
    supports: demoSupports,
    footings: demoFootings,
    editions: demoCriteria.editions,
  }),
  footings: demoFootings,
  hangers: demoHangers,
  supports: demoSupports,
  beamWords: 'the beam',
  supportWords: { left: 'the left pack', right: 'the right pack' },
  notes: [],
};
const room = lyingSheet('LETTER');
const views = () => viewsOf(opening, { elevation: room, section: room });
const drawn = views();
const block = {
  title: 'Drawings',
  house: 'A house',
  opening: 'opening 1',
  set: 'Approved set 1',
  issued: 'Issued today',
  hash: '0'.repeat(64),
  warnings: [],
  checkUrl: 'https://example.org/set-check',
  madeAt: new Date(0),
};

/** A sheet of several calculated items, each with every step of the beam. */
const ITEMS = 6;
function sheet(): CalculationSheet {
  const calculation = calculationView(calculateBeam(demoSurvey, demoCriteria, demoBeam));
  return {
    project: { name: block.house, address: '', jurisdiction: 'A town', permitNumber: '' },
    timeZone: 'UTC',
    opening: { ordinal: 1, name: 'A wall' },
    basis: block.set,
    hash: block.hash,
    warnings: [],
    items: Array.from({ length: ITEMS }, (_, at) => ({
      kind: 'beam',
      kindTitle: 'Beam',
      key: `beam-${at}`,
      title: 'Beam',
      number: 1,
      hash: block.hash,
      engineVersion: '0',
      authorName: 'A contractor',
      at: block.madeAt,
      stands: 'not marked yet',
      lines: [],
      calculation,
      pictures: [],
    })),
    loads: [],
    combinations: [],
    candidates: null,
    assumptions: [],
    limits: [],
    madeAt: block.madeAt,
  };
}
const made = sheet();

async function medianMs(work: () => unknown): Promise<number> {
  for (let run = 0; run < 3; run += 1) await work();
  const times: number[] = [];
  for (let run = 0; run < 9; run += 1) {
    const start = performance.now();
    await work();
    times.push(performance.now() - start);
  }
  return times.sort((one, other) => one - other)[4] ?? 0;
}

const beamMs = await medianMs(() => calculateBeam(demoSurvey, demoCriteria, demoBeam));
const measured: readonly (readonly [string, () => unknown])[] = [
  ['views laid out at their largest scale', views],
  ['views as SVG', () => drawn.map((figure) => figureSvg(figure.name, figure))],
  ['views as DXF', () => figuresDxf(drawn)],
  ['views as sheets in a PDF', () => makePdf(sheetsOf(block, drawn.map(figureOnPaper), 'LETTER'))],
  [`calculation of ${ITEMS} items as a PDF`, () => calculationSheetPdf(made)],
];
for (const [name, work] of measured) {
  const ms = await medianMs(work);
  console.log(`${name.padEnd(40)} ${ms.toFixed(1).padStart(8)} ms, ${(ms / beamMs).toFixed(1)} x the beam`);
}
