import { CABLE_SHIELD_IN, PIPE_SHIELD_IN, checkShield } from '../fasteners/nail-plate.ts';
import { makeCheck, qty, type Check, type Editions } from '../trace/index.ts';
import { checkJoistCut, checkStudCut } from '../wood/irc/index.ts';
import type { FramingCut, Service } from './service.ts';

/** Joists of platform framing are 2 in nominal; thicker pieces are beams. */
const JOIST_NOMINAL_IN = 2;

/**
 * The holes and notches that a service needs: joists by IRC R502.8.1, studs by R602.6, and a steel plate where less
 * than 1 1/4 in of wood is left before it (NEC 300.4(A)(1), IRC E3802.1, P2603.2.1). No rule of thumb lets anybody
 * bore the new beam: that is for the engineer.
 * @throws Refusal for a cut or member without size
 */
export function checkCuts(service: Service, editions: Editions): Check[] {
  return service.cuts.flatMap((cut, index) =>
    checkCut(`cuts.${index}`, cut, service.what === 'circuit', editions),
  );
}

function checkCut(id: string, cut: FramingCut, isCable: boolean, editions: Editions): Check[] {
  if (cut.through === 'beam') {
    return [
      makeCheck({
        id: `${id}.beam`,
        title: `${cut.kind === 'hole' ? 'Hole' : 'Notch'} in the beam`,
        clause: {
          standard: 'Practice',
          edition: '',
          section: 'holes in engineered beams',
          provenance: 'common practice',
        },
        demand: qty(cut.sizeIn, 'in'),
        capacity: qty(0, 'in'),
        sentence: () => 'Nobody bores or notches the beam before the engineer has said where and how large.',
      }),
    ];
  }
  const where = (check: Check): Check => ({
    ...check,
    title: `${check.title}, ${cut.through} ${Number(id.slice(5)) + 1}`,
  });
  const sizes =
    cut.through === 'joist'
      ? checkJoistCut(
          id,
          {
            kind: cut.kind,
            joistDepthIn: cut.memberDepthIn,
            sizeIn: cut.sizeIn,
            place: cut.place,
            nominalThicknessIn: JOIST_NOMINAL_IN,
            edgeIn: cut.edgeIn,
          },
          editions.irc,
        )
      : checkStudCut(
          id,
          {
            kind: cut.kind === 'hole' ? 'bored hole' : 'notch',
            studDepthIn: cut.memberDepthIn,
            sizeIn: cut.sizeIn,
            bearingWall: cut.bearingWall,
            doubled: cut.doubled,
            edgeIn: cut.edgeIn,
          },
          editions.irc,
        );
  const plateIn = cut.plated ? (isCable ? CABLE_SHIELD_IN : PIPE_SHIELD_IN) : 0;
  // A notch lays the service at the edge itself.
  const edgeIn = cut.kind === 'notch' ? 0 : cut.edgeIn;
  const shield = checkShield(
    `${id}.shield`,
    { service: isCable ? 'cable' : 'pipe', edgeIn, plateIn },
    editions,
  );
  return [...sizes, shield].map(where);
}
