import { z } from 'zod';

/**
 * A service found in the wall: a circuit, a pipe, a duct or gas. What it is, where it goes, and what becomes of it.
 * Whether it was proved dead and whether the work is done is no part of it: that is logged, see src/site/services.
 */
const words = (longest: number) => z.string().trim().max(longest);

/** A hole or notch that the service needs through framing, by IRC R502.8 and R602.6. */
export const framingCutSchema = z.strictObject({
  through: z.enum(['joist', 'stud', 'beam']).describe('What is cut'),
  kind: z.enum(['hole', 'notch']),
  sizeIn: z.number().positive().max(24).describe('Diameter, or depth of the notch, in'),
  memberDepthIn: z
    .number()
    .min(1)
    .max(48)
    .describe('Measured depth of the joist, or wide face of the stud, in'),
  place: z.enum(['end', 'outer third', 'middle third']).describe('Where along a joist'),
  edgeIn: z.number().min(0).max(24).describe('Wood left to the nearer edge, in'),
  bearingWall: z.boolean().describe('Stud of a bearing or exterior wall'),
  doubled: z.boolean().describe('The stud is doubled'),
  plated: z.boolean().describe('A steel plate over it'),
});
export type FramingCut = z.infer<typeof framingCutSchema>;

export const awgSizes = ['14', '12', '10', '8', '6', '4', '3', '2', '1', 'not read'] as const;
export const conductorMetals = ['copper', 'aluminium', 'copper-clad', 'not read'] as const;

/** What the breaker and the cable are once the work is done, where they change. */
const afterSchema = z.strictObject({
  amps: z.number().int().min(1).max(400).describe('Breaker, A'),
  awg: z.enum(awgSizes),
  conductor: z.enum(conductorMetals),
});

const common = {
  positionIn: z.number().min(0).max(2400).optional().describe('In the wall, from the datum, in'),
  feeds: words(200).describe('What it really feeds, as traced; blank: not traced yet'),
  run: z.enum(['passes through', 'ends here', 'not traced']),
  cuts: z.array(framingCutSchema).max(20).describe('Holes and notches that its new way needs'),
  note: words(2000),
};

const others = z.enum(
  ['not decided', 'kept', 're-routed', 'removed', 'abandoned'],
  'extending and coiling are for cables',
);

export const circuitSchema = z.strictObject({
  what: z.literal('circuit'),
  ...common,
  breaker: words(20).min(1, 'Which breaker? A number, or 13+15.'),
  panelLabel: words(80).describe('As the panel says; blank: unlabelled'),
  amps: z.number().int().min(1).max(400).describe('Breaker, A'),
  poles: z.enum(['1', '2', '3']),
  protection: z.enum(['none', 'AFCI', 'GFCI', 'AFCI and GFCI', 'not read']),
  awg: z.enum(awgSizes),
  conductor: z.enum(conductorMetals),
  cable: words(60).describe('Type, as printed on the jacket; blank: not read'),
  multiWire: z.boolean().describe('One neutral for two hot conductors of different poles'),
  sharedNeutral: z.boolean().describe('Its neutral was found joined with that of another circuit'),
  boxes: z.number().int().min(0).max(60).describe('Boxes in the wall'),
  disposition: z.enum(['not decided', 'kept', 're-routed', 'extended', 'removed', 'coiled', 'abandoned']),
  coiledLengthIn: z.number().positive().max(6000).optional().describe('Cable left in the coil, in'),
  after: afterSchema.optional(),
});
export type Circuit = z.infer<typeof circuitSchema>;

export const pipeSchema = z.strictObject({
  what: z.literal('pipe'),
  ...common,
  role: z.enum(['waste', 'vent', 'supply', 'drain'], 'that is for ducts'),
  sizeIn: z.number().positive().max(12).describe('Nominal size, in'),
  material: words(60),
  disposition: others,
});

export const ductSchema = z.strictObject({
  what: z.literal('duct'),
  ...common,
  role: z.enum(['supply', 'return', 'exhaust', 'flue'], 'that is for pipes'),
  size: words(40).min(1, 'Give its size: 6 in round, 3 1/4 x 10.'),
  disposition: others,
});

export const gasSchema = z.strictObject({
  what: z.literal('gas'),
  ...common,
  sizeIn: z.number().positive().max(6).describe('Nominal size, in'),
  material: words(60),
  shutOff: words(120).describe('Where it is shut off'),
  disposition: others,
});

export const serviceSchema = z
  .discriminatedUnion('what', [circuitSchema, pipeSchema, ductSchema, gasSchema])
  .refine(
    (service) =>
      service.what !== 'circuit' ||
      (service.disposition === 'coiled') === (service.coiledLengthIn !== undefined),
    {
      path: ['coiledLengthIn'],
      message: 'Give the cable left in the coil, and only where it is coiled for reuse.',
    },
  );

export type Service = z.infer<typeof serviceSchema>;
export type Disposition = Service['disposition'];
