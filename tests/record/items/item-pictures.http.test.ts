import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoFootings, demoHangers, demoShoring } from '../../../src/demo/cinder-ferry.ts';
import type { Footing, Hanger, Shoring } from '../../../src/engineering/proposal/design.ts';
import { footingForm } from '../../../src/record/kinds/footing/form.ts';
import { hangerForm } from '../../../src/record/kinds/hanger/form.ts';
import { createItem } from '../../../src/record/items/create.ts';
import { shoringForm } from '../../../src/record/kinds/shoring/form.ts';
import { submitVersions } from '../../../src/record/submissions/service.ts';
import { saveVersion } from '../../../src/record/versions/service.ts';
import { fillForm } from '../../../src/web/forms/fill.ts';
import { openHouse, unescaped, type House } from '../schedule/house.ts';

let house: House;
const pad = { widthIn: 30, lengthIn: 36, thicknessIn: 12 };

beforeAll(async () => {
  house = await openHouse({ rows: false });
  const { test, contractorActor, openingId } = house;
  await createItem(test.deps, contractorActor, {
    openingId,
    kind: 'hanger',
    key: 'front',
    title: 'Hangers, front',
    content: frontHangers,
  });
  await createItem(test.deps, contractorActor, {
    openingId,
    kind: 'shoring',
    key: 'shoring',
    title: 'Shoring plan',
    content: shoring,
  });
});
afterAll(() => house.test.close());

const opening = () => `/projects/${house.projectId}/openings/${house.openingId}`;

async function itemId(kind: Drawn['kind'], key: string): Promise<string> {
  const item = await house.test.deps.prisma.item.findFirstOrThrow({
    where: { openingId: house.openingId, kind, key },
    select: { id: true },
  });
  return item.id;
}

/** Each drawing of a page: what it is called and what it says to who can't see it. */
function drawingsOf(body: string): string[] {
  return [...body.matchAll(/<title id="[^"]+">([^<]*)<\/title><desc[^>]*>([^<]*)</g)].map((match) =>
    unescaped(`${match[1]}: ${match[2]}`),
  );
}

interface Drawn {
  readonly kind: 'footing' | 'hanger' | 'shoring';
  readonly key: string;
  readonly boxes: () => Record<string, string>;
  /** What both drawings of the first version say, and those of a second one. */
  readonly says: readonly [RegExp, RegExp];
  readonly second: unknown;
  readonly saysThen: RegExp;
  /** Fields with which nothing can be drawn. */
  readonly refused: Record<string, string>;
}

const [leftFooting] = demoFootings as [Footing, Footing];

const [frontHangers] = demoHangers as [Hanger];

const shoring: Shoring = { ...demoShoring, offsetIn: 36, storeysShored: 2, bracesRelanded: true };

const kinds: readonly Drawn[] = [
  {
    kind: 'footing',
    key: 'left',
    boxes: () => fillForm(footingForm.spec, leftFooting),
    says: [
      /^Under the left pack, across the wall: Concrete found 9 3\/4" thick under 2 jacks and 1 king .* 1'-4" across/,
      /^Under the left pack, from above: /,
    ],
    second: { ...leftFooting, pad },
    saysThen: /: New pad 1'-0" thick under .* 2'-6" across/,
    refused: { foundWidthIn: '4"' },
  },
  {
    kind: 'hanger',
    key: 'front',
    boxes: () => fillForm(hangerForm.spec, frontHangers),
    says: [
      /^Joist at the front face of the beam: A 2x10 joist, 9 1\/4" deep, .* 9 1\/2" deep.*; the beam reaches 1\/4" below it/,
      /^The front face of the beam with its joists: 2x10 joists 1'-4" center to center, .* 16 nails/,
    ],
    second: { ...frontHangers, joistSize: '2x12' },
    saysThen: /A 2x12 joist, 11 1\/4" deep.* it reaches 1 3\/4" below the beam/,
    refused: { joistSize: '2x9' },
  },
  {
    kind: 'shoring',
    key: 'shoring',
    boxes: () => fillForm(shoringForm.spec, shoring),
    says: [
      /^Temporary walls, across: 2 temporary walls on both sides, 3'-0" from .* Load of a stud: front [\d,.]+ lb, rear [\d,.]+ lb/,
      /^Each temporary wall, along: 13'-4" long, past both ends of the beam: 13 studs at 1'-4", 1 row of bracing/,
    ],
    second: { ...shoring, offsetIn: 24, studSpacingIn: 12 },
    saysThen: /2 temporary walls on both sides, 2'-0" from/,
    refused: { studSize: '2x9' },
  },
];

describe.each(kinds)('the drawings of a $kind', ({ kind, key, boxes, says, second, saysThen, refused }) => {
  let id: string;
  const expectBoth = (body: string) => {
    const drawings = drawingsOf(body);
    for (const words of says) expect(drawings.filter((one) => words.test(one))).toHaveLength(1);
  };

  beforeAll(async () => {
    id = await itemId(kind, key);
  });

  it('stand on the page of the item, and on that of its version', async () => {
    const page = `/projects/${house.projectId}/items/${id}`;
    expectBoth((await house.engineer.get(page)).body);
    expectBoth((await house.contractor.get(`${page}/versions/1`)).body);
  });

  it('stand beside the form while it is typed, as typed', async () => {
    const typed = await house.contractor.post(`${opening()}/preview?kind=${kind}`, boxes());
    expect(typed.statusCode).toBe(200);
    expectBoth(typed.body);
  });

  it('are left out, without an error, where the figures make no drawing', async () => {
    const typed = await house.contractor.post(`${opening()}/preview?kind=${kind}`, {
      ...boxes(),
      ...refused,
    });
    expect(typed.statusCode).toBe(200);
    expect(drawingsOf(typed.body)).toEqual([]);
  });

  it('stand on the page that the engineer reviews, and an old version keeps its own', async () => {
    const { test, contractorActor, openingId } = house;
    await submitVersions(test.deps, contractorActor, { openingId });
    const review = await house.engineer.get(`${opening()}/review`);
    expectBoth(review.body);
    const ids = [...review.body.matchAll(/\sid="([^"]+)"/g)].map((match) => match[1]);
    expect(new Set(ids).size).toBe(ids.length);

    await saveVersion(test.deps, contractorActor, { itemId: id, expectedNumber: 1, content: second });
    const page = `/projects/${house.projectId}/items/${id}`;
    expect(drawingsOf((await house.engineer.get(page)).body).some((one) => saysThen.test(one))).toBe(true);
    expectBoth((await house.engineer.get(`${page}/versions/1`)).body);
  });
});
