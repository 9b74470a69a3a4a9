import { z } from 'zod';
import { makeCheck, qty, Refusal } from '../../../src/engineering/trace/index.ts';
import { allOf, onlyOf, type ItemKindDefinition } from '../../../src/record/kinds/definition.ts';
import { kindRegistry, type KindRegistry } from '../../../src/record/kinds/registry.ts';

const mechanics = { standard: 'Mechanics', edition: '', section: 'simple beam' } as const;

interface Criteria {
  livePsf: number;
}
const criteria: ItemKindDefinition<Criteria> = {
  kind: 'criteria',
  title: 'Criteria',
  reviewable: false,
  restsOnKinds: [],
  schema: z.strictObject({ livePsf: z.number().min(0) }),
  describe: (content) => [`live load ${content.livePsf} psf`],
  restsOn: () => [],
  calculate: () => null,
};

interface Survey {
  spanIn: number;
  note?: string | undefined;
}
const survey: ItemKindDefinition<Survey> = {
  kind: 'survey',
  title: 'Survey',
  reviewable: false,
  restsOnKinds: [],
  schema: z.strictObject({ spanIn: z.number().positive(), note: z.string().optional() }),
  describe: (content) => [`span ${content.spanIn} in`],
  restsOn: () => [],
  calculate: () => null,
};

interface Beam {
  plies: number;
  depthIn: number;
}
/** A simple beam under 10 ft of floor: load in plf is ten times the live load. */
const beam: ItemKindDefinition<Beam> = {
  kind: 'beam',
  title: 'Beam',
  reviewable: true,
  restsOnKinds: ['criteria', 'survey'],
  schema: z.strictObject({ plies: z.number().int().min(1).max(5), depthIn: z.number().positive() }),
  labels: { depthIn: 'depth' },
  describe: (content) => [`${content.plies} plies, ${content.depthIn} in deep`],
  restsOn(_content, context) {
    const surveyed = onlyOf(context, 'survey');
    const asked = onlyOf(context, 'criteria');
    if (!surveyed || !asked) throw new Refusal('', 'Enter criteria and survey first.');
    return [
      { on: surveyed, label: 'opening', values: { span: qty((surveyed.content as Survey).spanIn, 'in') } },
      { on: asked, label: 'loads', values: { 'live load': qty((asked.content as Criteria).livePsf, 'psf') } },
    ];
  },
  calculate(content, context) {
    const spanFt = (onlyOf(context, 'survey')!.content as Survey).spanIn / 12;
    const loadPlf = (onlyOf(context, 'criteria')!.content as Criteria).livePsf * 10;
    if (content.depthIn > 60) throw new Refusal('depthIn', 'No such beam is made.');
    const moment = qty((loadPlf * spanFt ** 2) / 8, 'lb-ft');
    const capacity = qty(content.plies * content.depthIn ** 2 * 50, 'lb-ft');
    return {
      checks: [makeCheck({ id: 'bending', title: 'Bending', clause: mechanics, demand: moment, capacity })],
      steps: [],
      notices: [],
      outputs: { reaction: qty((loadPlf * spanFt) / 2, 'lb') },
    };
  },
};

interface Support {
  jacks: number;
}
const support: ItemKindDefinition<Support> = {
  kind: 'support',
  title: 'Support',
  reviewable: true,
  restsOnKinds: ['beam'],
  schema: z.strictObject({ jacks: z.number().int().min(1).max(6) }),
  describe: (content) => [`${content.jacks} jacks`],
  restsOn(_content, context) {
    const above = onlyOf(context, 'beam');
    if (!above) throw new Refusal('', 'Enter the beam first.');
    return [{ on: above, label: 'reaction', values: { demand: above.outputs.reaction! } }];
  },
  calculate(content, context) {
    const demand = onlyOf(context, 'beam')!.outputs.reaction as ReturnType<typeof qty>;
    const capacity = qty(content.jacks * 3000, 'lb');
    const check = makeCheck({ id: 'plate', title: 'Plate bearing', clause: mechanics, demand, capacity });
    return { checks: [check], steps: [], notices: [], outputs: { load: demand } };
  },
};

interface Fastening {
  rows: number;
  spacingIn: number;
  note?: string | undefined;
}
const fastening: ItemKindDefinition<Fastening> = {
  kind: 'fastening',
  title: 'Fastening row',
  reviewable: true,
  restsOnKinds: ['beam'],
  schema: z.strictObject({
    rows: z.number().int().min(1),
    spacingIn: z.number().positive(),
    note: z.string().optional(),
  }),
  describe: (content) => [`${content.rows} rows at ${content.spacingIn} in`],
  restsOn: (_content, context) =>
    allOf(context, 'beam').map((above) => ({
      on: above,
      label: 'plies',
      values: { plies: (above.content as Beam).plies },
    })),
  calculate: () => null,
};

interface Drawing {
  caption: string;
}
const drawing: ItemKindDefinition<Drawing> = {
  kind: 'drawing',
  title: 'Drawing',
  reviewable: true,
  restsOnKinds: [],
  schema: z.strictObject({ caption: z.string().max(4000) }),
  describe: (content) => [content.caption],
  restsOn: () => [],
  calculate: () => null,
};

/** A small house of kinds whose figures are worked out by hand in seconds. */
export function testKinds(engineVersion = 'test 1'): KindRegistry {
  return kindRegistry(engineVersion, [criteria, survey, beam, support, fastening, drawing]);
}
