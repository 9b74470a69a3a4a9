import { notNegative, positive, qty, type Editions, type Step } from '../trace/index.ts';
import { aisc, OMEGA, STEEL_E_PSI } from './grades.ts';
import type { WideFlange } from './wide-flange.ts';

export interface WebAtLoadInput {
  readonly shape: WideFlange;
  readonly fyPsi: number;
  /** Length of bearing along the beam, lb of J10. */
  readonly bearingIn: number;
  /** From the member's end to the middle of the force: near an end the web yields and cripples sooner. */
  readonly fromEndIn: number;
  readonly editions: Editions;
}

export interface WebAtLoad {
  readonly yieldingLb: number;
  readonly cripplingLb: number;
  readonly yieldingStep: Step;
  readonly cripplingStep: Step;
}

/**
 * What an unstiffened web takes from a force that presses on one flange: local yielding (AISC 360 J10.2, Ω 1.50)
 * and local crippling (J10.3, Ω 2.00). Pounds.
 * Refuses a bearing length or yield stress that is not positive and a negative distance.
 */
export function webAtLoad(input: WebAtLoadInput): WebAtLoad {
  const { shape, editions } = input;
  const fy = positive(input.fyPsi, 'fyPsi');
  const bearing = positive(input.bearingIn, 'bearingIn');
  const fromEnd = notNegative(input.fromEndIn, 'fromEndIn');
  const spread = fromEnd <= shape.depthIn ? 2.5 : 5;
  const yieldingLb = (fy * shape.webIn * (spread * shape.filletToeIn + bearing)) / OMEGA.webYielding;

  const atEnd = fromEnd < shape.depthIn / 2;
  const ratio = bearing / shape.depthIn;
  const lead = atEnd ? 0.4 : 0.8;
  const lengthTerm = atEnd && ratio > 0.2 ? 4 * ratio - 0.2 : 3 * ratio;
  const thickness = (shape.webIn / shape.flangeIn) ** 1.5;
  const cripplingLb =
    (lead *
      shape.webIn ** 2 *
      (1 + lengthTerm * thickness) *
      Math.sqrt((STEEL_E_PSI * fy * shape.flangeIn) / shape.webIn)) /
    OMEGA.webCrippling;

  const common = {
    Fy: qty(fy, 'psi'),
    tw: qty(shape.webIn, 'in'),
    lb: qty(bearing, 'in'),
  };
  return {
    yieldingLb,
    cripplingLb,
    yieldingStep: {
      id: 'steel.web.yielding',
      title: 'Web local yielding',
      clause: aisc(editions, spread === 2.5 ? 'Eq. J10-3' : 'Eq. J10-2'),
      formula: 'Ra = Fy · tw · (n · k + lb) / Ω',
      values: {
        ...common,
        n: qty(spread),
        k: qty(shape.filletToeIn, 'in'),
        Ω: qty(OMEGA.webYielding),
      },
      result: qty(yieldingLb, 'lb'),
    },
    cripplingStep: {
      id: 'steel.web.crippling',
      title: 'Web local crippling',
      clause: aisc(editions, atEnd ? (ratio > 0.2 ? 'Eq. J10-5b' : 'Eq. J10-5a') : 'Eq. J10-4'),
      formula: 'Ra = c · tw^2 · (1 + N · (tw / tf)^1.5) · √(E · Fy · tf / tw) / Ω',
      values: {
        ...common,
        c: qty(lead),
        N: qty(lengthTerm),
        tf: qty(shape.flangeIn, 'in'),
        E: qty(STEEL_E_PSI, 'psi'),
        Ω: qty(OMEGA.webCrippling),
      },
      result: qty(cripplingLb, 'lb'),
      note: atEnd && ratio > 0.2 ? 'N = 4 lb/d − 0.2' : 'N = 3 lb/d',
    },
  };
}
