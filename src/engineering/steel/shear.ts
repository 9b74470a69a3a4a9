import { positive, qty, type Editions, type Step } from '../trace/index.ts';
import { aisc, OMEGA, STEEL_E_PSI } from './grades.ts';
import { derive, type WideFlange } from './wide-flange.ts';

export interface SteelShear {
  readonly allowableLb: number;
  readonly omega: number;
  readonly step: Step;
}

/** Web plate buckling coefficient without transverse stiffeners, AISC 360 G2.1(b)(2). */
const KV_UNSTIFFENED = 5.34;

/** Shear of the web of a rolled W-shape without stiffeners: AISC 360 G2.1; Ω 1.50 for stocky webs, else 1.67. */
export function shearStrength(shape: WideFlange, fyPsi: number, editions: Editions): SteelShear {
  const fy = positive(fyPsi, 'fyPsi');
  const { webSlenderness } = derive(shape);
  const stocky = webSlenderness <= 2.24 * Math.sqrt(STEEL_E_PSI / fy);
  const omega = stocky ? OMEGA.shearStockyWeb : OMEGA.shear;
  const limit = 1.1 * Math.sqrt((KV_UNSTIFFENED * STEEL_E_PSI) / fy);
  const coefficient = stocky || webSlenderness <= limit ? 1 : limit / webSlenderness;
  const allowableLb = (0.6 * fy * shape.depthIn * shape.webIn * coefficient) / omega;
  return {
    allowableLb,
    omega,
    step: {
      id: 'steel.shear.allowable',
      title: 'Allowable shear of the web',
      clause: aisc(editions, stocky ? 'G2.1(a)' : 'G2.1(b)'),
      formula: 'Va = 0.6 · Fy · d · tw · Cv / Ω',
      values: {
        Fy: qty(fy, 'psi'),
        d: qty(shape.depthIn, 'in'),
        tw: qty(shape.webIn, 'in'),
        Cv: qty(coefficient),
        Ω: qty(omega),
      },
      result: qty(allowableLb, 'lb'),
    },
  };
}
