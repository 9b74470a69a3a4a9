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
];
for (const [name, work] of measured) {
  const ms = await medianMs(work);
  console.log(`${name.padEnd(40)} ${ms.toFixed(1).padStart(8)} ms, ${(ms / beamMs).toFixed(1)} x the beam`);
}
