import { demoBeam, demoFootings, demoRows, demoSupports } from '../src/demo/cinder-ferry.ts';
import { produceChecks, type ApprovedContent } from '../src/inspection/checks/produce.ts';

/** How the production of a checklist grows with the set: ratios to the smallest, within one run. */
const samples: Omit<ApprovedContent, 'itemId' | 'versionId'>[] = [
  { kind: 'beam', key: 'beam', title: 'Beam', content: demoBeam },
  ...demoSupports.map((content) => ({
    kind: 'support' as const,
    key: content.end,
    title: 'Support',
    content,
  })),
  ...demoFootings.map((content) => ({
    kind: 'footing' as const,
    key: content.end,
    title: 'Footing',
    content,
  })),
  ...demoRows.map(({ key, title, content }) => ({ kind: 'fastening' as const, key, title, content })),
];
function setOf(size: number): ApprovedContent[] {
  const whole = Math.ceil(size / samples.length);
  return Array.from({ length: whole }, () => samples)
    .flat()
    .slice(0, size)
    .map((sample, index) => ({ ...sample, itemId: `item-${index}`, versionId: `version-${index}` }));
}
function medianMs(work: () => void): number {
  for (let run = 0; run < 5; run += 1) work();
  const times = Array.from({ length: 15 }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  }).sort((one, other) => one - other);
  return times[7] ?? 0;
}
let first = 0;
for (const size of [50, 500, 5000]) {
  const entries = setOf(size);
  const ms = medianMs(() => {
    produceChecks(entries);
  });
  first ||= ms / size;
  console.log(
    `${String(size).padStart(5)} items: ${ms.toFixed(2).padStart(8)} ms, per item ${(ms / size / first).toFixed(2)} x that of 50`,
  );
}
