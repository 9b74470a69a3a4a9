import { describe, expect, it } from 'vitest';
import { produceChecks } from '../../src/inspection/checks/produce.ts';
import {
  largestBreakerA,
  serviceChecks,
  type CircuitForChecks,
} from '../../src/inspection/checks/service-checks.ts';

const circuit = (over: Partial<CircuitForChecks> = {}): CircuitForChecks => ({
  key: 'c9',
  breaker: '9',
  amps: 15,
  poles: 1,
  conductor: 'aluminum',
  awg: 12,
  cable: 'two-wire with ground',
  feeds: 'bedroom riser',
  disposition: 'reroute',
  arcFault: true,
  ...over,
});
const byRule = (over: Partial<CircuitForChecks>) =>
  Object.fromEntries(serviceChecks([circuit(over)]).map((check) => [check.rule, check]));

describe('circuits that were in the wall', () => {
  /* NEC 240.4(D): copper 14, 12, 10 AWG to 15, 20, 30 A; aluminum 12, 10 AWG to 15, 25 A; larger ones by ampacity. */
  it.each([
    ['copper', 14, 15],
    ['copper', 12, 20],
    ['copper', 10, 30],
    ['copper', 8, undefined],
    ['aluminum', 12, 15],
    ['aluminum', 10, 25],
    ['copper-clad aluminum', 10, 25],
    ['aluminum', 14, undefined],
  ] as const)('%s %i AWG: %s A at most', (conductor, awg, amps) => {
    expect(largestBreakerA(conductor, awg)).toBe(amps);
  });

  it('over-fused ones are named', () => {
    expect(byRule({ amps: 20 }).breaker?.criterion).toContain('the 20 A breaker that was found is changed');
    expect(byRule({}).breaker?.criterion).toContain('as the 15 A breaker found');
    expect(byRule({ awg: 8, conductor: 'copper' }).breaker?.criterion).toContain('by the ampacity');
  });

  it.each([
    ['reroute', ['breaker', 'run', 'label']],
    ['extend', ['breaker', 'run', 'label']],
    ['keep', ['breaker', 'kept']],
    ['remove', ['dead']],
    ['abandon', ['dead']],
  ] as const)('to %s: %s', (disposition, rules) => {
    const checks = serviceChecks([circuit({ disposition })]);
    expect(checks.map((check) => check.rule)).toEqual(rules);
    for (const check of checks) {
      expect(check).toMatchObject({ visitKind: 'electrical', holdPoint: 'cover the framing' });
    }
  });

  it('aluminum asks for listed splices, arc-fault protection where it is asked for', () => {
    expect(byRule({}).run?.criterion).toContain('listed for aluminum to copper');
    expect(byRule({ conductor: 'copper' }).run?.criterion).not.toContain('aluminum');
    expect(byRule({ arcFault: false }).run?.criterion).not.toContain('arc-fault');
  });

  it('go into a list behind the approved versions; other words are another check of the same stem', () => {
    const [before] = produceChecks([], serviceChecks([circuit()]));
    const [after] = produceChecks([], serviceChecks([circuit({ amps: 20 })]));
    expect(before).toMatchObject({ versionId: null, source: 'circuit 9' });
    expect(before?.key).toMatch(/^circuit:c9:breaker#[0-9a-f]{12}$/);
    expect(after?.key.split('#')[0]).toBe(before?.key.split('#')[0]);
    expect(after?.key).not.toBe(before?.key);
  });

  it('refuse what is no circuit', () => {
    expect(() => serviceChecks([circuit({ amps: Number.NaN })])).toThrow();
    expect(() => serviceChecks([circuit({ awg: -12 })])).toThrow();
  });
});
