import { describe, expect, it } from 'vitest';
import { demoServices } from '../../../src/demo/cinder-ferry-services.ts';
import { demoCriteria } from '../../../src/demo/cinder-ferry.ts';
import {
  assessService,
  serviceSchema,
  serviceTitle,
  type Circuit,
  type FramingCut,
  type Service,
} from '../../../src/engineering/services/index.ts';

const circuit = demoServices.find((one) => one.what === 'circuit' && one.breaker === '20') as Circuit;
const pipe = demoServices.find((one) => one.what === 'pipe')!;
const { editions } = demoCriteria;
const hole: FramingCut = {
  through: 'joist',
  kind: 'hole',
  sizeIn: 2,
  memberDepthIn: 9.25,
  place: 'middle third',
  edgeIn: 3,
  bearingWall: false,
  doubled: false,
  plated: false,
};
const cautions = (service: Service) => assessService(service, null).notices.map((notice) => notice.id);
const cut = (change: Partial<FramingCut>, service: Service = circuit) =>
  Object.fromEntries(
    assessService({ ...service, cuts: [{ ...hole, ...change }] }, editions)
      .checks.filter((check) => check.id.startsWith('cuts'))
      .map((check) => [check.id.replace('cuts.0.', ''), check.passes]),
  );

describe('cautions of a circuit', () => {
  it('always say to prove it dead', () => {
    expect(cautions(circuit)).toEqual(['dead']);
  });
  it.each([
    ['aluminium', { conductor: 'aluminium' }],
    ['copper-clad', { conductor: 'copper-clad' }],
    ['multi-wire', { multiWire: true }],
    ['shared-neutral', { sharedNeutral: true }],
    ['unlabelled', { panelLabel: '' }],
    ['not-read', { awg: 'not read' }],
    ['not-read', { conductor: 'not read' }],
    ['afci', { disposition: 'extended' }],
    ['abandoned', { disposition: 'abandoned' }],
    ['untraced', { feeds: '', disposition: 're-routed' }],
  ] as [string, Partial<Circuit>][])('%s', (id, change) => {
    expect(cautions({ ...circuit, ...change })).toContain(id);
  });
  it('ask for nothing where arc-fault protection is there', () => {
    expect(cautions({ ...circuit, disposition: 'extended', protection: 'AFCI' })).not.toContain('afci');
  });
  it('an over-fused circuit that stays wants a word on its breaker', () => {
    const over: Circuit = { ...circuit, conductor: 'aluminium', awg: '12', amps: 20 };
    expect(cautions(over)).toContain('stays-over-fused');
    expect(cautions({ ...over, disposition: 'removed' })).not.toContain('stays-over-fused');
    const after = { amps: 15, awg: '12', conductor: 'aluminium' } as const;
    const told = assessService({ ...over, after }, null);
    expect(told.notices.map((notice) => notice.id)).not.toContain('stays-over-fused');
    expect(told.checks.map((check) => [check.id, check.passes])).toEqual([
      ['breaker', false],
      ['after', true],
    ]);
  });
});

describe('cautions of pipes, ducts and gas', () => {
  it.each(['waste', 'vent'] as const)('%s', (role) => {
    expect(cautions({ ...pipe, role })).toEqual([role]);
  });
  it('water, duct, flue, gas', () => {
    expect(cautions({ ...pipe, role: 'supply' })).toEqual(['water']);
    const duct = demoServices.find((one) => one.what === 'duct')!;
    expect(cautions(duct)).toEqual(['duct']);
    expect(cautions({ ...duct, role: 'flue' })).toEqual(['flue']);
    const { role: _role, ...rest } = pipe;
    expect(cautions({ ...rest, what: 'gas', shutOff: '' })).toEqual(['gas']);
  });
});

describe('holes and notches, by IRC R502.8.1 and R602.6', () => {
  it('a joist takes a hole of a third of its depth, 2 in clear of the edge', () => {
    expect(cut({ sizeIn: 3.05 })).toEqual({ size: true, edge: true, shield: true });
    expect(cut({ sizeIn: 3.1 }).size).toBe(false);
    expect(cut({ edgeIn: 1.9 }).edge).toBe(false);
  });
  it('no notch in the middle third, a quarter at the end, a sixth between', () => {
    expect(cut({ kind: 'notch', sizeIn: 0.5 }).size).toBe(false);
    expect(cut({ kind: 'notch', sizeIn: 2.3, place: 'end' }).size).toBe(true);
    expect(cut({ kind: 'notch', sizeIn: 2.4, place: 'end' }).size).toBe(false);
    expect(cut({ kind: 'notch', sizeIn: 1.5, place: 'outer third' }).size).toBe(true);
    expect(cut({ kind: 'notch', sizeIn: 1.6, place: 'outer third' }).size).toBe(false);
  });
  it('a bearing stud takes 40 % of its depth, a doubled one 60 %', () => {
    const stud = { through: 'stud', memberDepthIn: 5.5, edgeIn: 1.25, bearingWall: true } as const;
    expect(cut({ ...stud, sizeIn: 2.2 }).size).toBe(true);
    expect(cut({ ...stud, sizeIn: 2.25 }).size).toBe(false);
    expect(cut({ ...stud, sizeIn: 2.25, doubled: true }).size).toBe(true);
    expect(cut({ ...stud, sizeIn: 1, edgeIn: 0.5 }).edge).toBe(false);
  });
  it('less than 1 1/4 in of wood before it wants a plate; a notch always does', () => {
    const stud = { through: 'stud', memberDepthIn: 5.5, sizeIn: 0.875, bearingWall: true } as const;
    expect(cut({ ...stud, edgeIn: 1.25 }).shield).toBe(true);
    expect(cut({ ...stud, edgeIn: 1.2 }).shield).toBe(false);
    expect(cut({ ...stud, edgeIn: 1.2, plated: true }).shield).toBe(true);
    expect(cut({ ...stud, kind: 'notch', edgeIn: 4 }).shield).toBe(false);
    expect(cut({ ...stud, kind: 'notch', edgeIn: 4, plated: true }, pipe).shield).toBe(true);
  });
  it('nobody bores the beam', () => {
    expect(cut({ through: 'beam', sizeIn: 0.25 })).toEqual({ beam: false });
  });
});

describe('a row as typed', () => {
  it('takes the nine circuits, the vent and the duct of the house', () => {
    for (const service of demoServices) expect(serviceSchema.parse(service)).toEqual(service);
    expect(demoServices.filter((one) => one.what === 'circuit')).toHaveLength(9);
    expect(demoServices.map(serviceTitle)).toContain('Circuit 13+15: dryer');
    expect(demoServices.map(serviceTitle)).toContain('2" vent: upper bath');
  });
  it.each([
    ['a coil without its length', { disposition: 'coiled' }],
    ['a length without a coil', { coiledLengthIn: 120 }],
    ['no breaker', { breaker: ' ' }],
    ['half an ampere', { amps: 0.5 }],
    ['a negative place', { positionIn: -1 }],
    ['a hole without size', { cuts: [{ ...hole, sizeIn: 0 }] }],
    ['what no circuit has', { role: 'vent' }],
  ])('refuses %s', (_, change) => {
    expect(serviceSchema.safeParse({ ...circuit, ...change }).success).toBe(false);
  });
  it('lengthens cables alone', () => {
    expect(serviceSchema.safeParse({ ...pipe, disposition: 'extended' }).success).toBe(false);
  });
});
