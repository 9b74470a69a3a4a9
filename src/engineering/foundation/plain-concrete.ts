import { positive, qty, refuseUnless, type Editions, type Step } from '../trace/index.ts';
import { aci } from './clauses.ts';

/** ACI 318-19 Table 21.2.1: plain concrete elements, in flexure, compression, shear and bearing. From memory. */
export const PHI_PLAIN = 0.6;
/** ACI 318-19 Table 21.2.1: bearing of reinforced members; seen as quoted for 318-14. */
export const PHI_BEARING = 0.65;
/** ACI 318-19 Table 21.2.1: shear of reinforced members; kept for comparison with published examples. */
export const PHI_SHEAR = 0.75;
/** ACI 318-19 14.5.1.7: cast against soil, the last two inches do not count. */
export const LOST_TO_SOIL_IN = 2;
/** ACI 318-19 14.3.2.1: a plain concrete footing is no thinner. */
export const THINNEST_FOOTING_IN = 8;

export interface Strength {
  /** Nominal strength times φ: lb or lb-in. */
  readonly design: number;
  readonly step: Step;
}

/** √f′c in psi, for f′c between 2 000 psi and 12 000 psi (19.2.1.1, normalweight, λ = 1). */
function rootOf(concretePsi: number): number {
  refuseUnless(
    Number.isFinite(concretePsi) && concretePsi >= 2000 && concretePsi <= 12_000,
    'concretePsi',
    'Concrete strength lies between 2 000 and 12 000 psi.',
  );
  return Math.sqrt(concretePsi);
}

/** Depth that counts: overall thickness less two inches on soil. Refuses less than that. */
export function effectiveThicknessIn(thicknessIn: number): number {
  refuseUnless(
    Number.isFinite(thicknessIn) && thicknessIn > LOST_TO_SOIL_IN,
    'thicknessIn',
    'Concrete on soil counts only beyond its last 2 in (ACI 318-19 14.5.1.7); this is no thicker.',
  );
  return thicknessIn - LOST_TO_SOIL_IN;
}

/** φMn of a plain concrete strip: tension 5 λ √f′c Sm, compression 0.85 f′c Sm, the lesser. ACI 318-19 14.5.2.1. */
export function plainFlexure(
  concretePsi: number,
  widthIn: number,
  depthIn: number,
  editions: Editions,
): Strength {
  const root = rootOf(concretePsi);
  const modulus = (positive(widthIn, 'widthIn') * positive(depthIn, 'depthIn') ** 2) / 6;
  const design = PHI_PLAIN * Math.min(5 * root, 0.85 * concretePsi) * modulus;
  return {
    design,
    step: {
      id: 'concrete.flexure',
      title: 'Design moment of plain concrete',
      clause: aci(editions, '14.5.2.1(a)'),
      formula: 'φMn = φ · 5 · λ · √(fc) · b · h^2 / 6',
      values: {
        φ: qty(PHI_PLAIN),
        λ: qty(1),
        fc: qty(concretePsi, 'psi'),
        b: qty(widthIn, 'in'),
        h: qty(depthIn, 'in'),
      },
      result: qty(design, 'lb-in'),
    },
  };
}

/** φVn one-way: 4/3 λ √f′c b h. ACI 318-19 Table 14.5.5.1(a). */
export function plainOneWayShear(
  concretePsi: number,
  widthIn: number,
  depthIn: number,
  editions: Editions,
): Strength {
  const design =
    PHI_PLAIN * (4 / 3) * rootOf(concretePsi) * positive(widthIn, 'widthIn') * positive(depthIn, 'depthIn');
  return {
    design,
    step: {
      id: 'concrete.shear.one-way',
      title: 'Design one-way shear of plain concrete',
      clause: aci(editions, 'Table 14.5.5.1(a)'),
      formula: 'φVn = φ · 4 / 3 · λ · √(fc) · b · h',
      values: {
        φ: qty(PHI_PLAIN),
        λ: qty(1),
        fc: qty(concretePsi, 'psi'),
        b: qty(widthIn, 'in'),
        h: qty(depthIn, 'in'),
      },
      result: qty(design, 'lb'),
    },
  };
}

/**
 * φVn two-way: (1 + 2/β) · 4/3 λ √f′c bo h, not more than twice the one-way stress (2.66 as 318 prints it).
 * β: long side ÷ short side of the loaded area. ACI 318-19 Table 14.5.5.1(b).
 */
export function plainTwoWayShear(
  concretePsi: number,
  perimeterIn: number,
  depthIn: number,
  beta: number,
  editions: Editions,
): Strength {
  refuseUnless(Number.isFinite(beta) && beta >= 1, 'beta', 'β is the long side over the short: 1 or more.');
  const factor = Math.min(4 / 3 + 8 / (3 * beta), 2.66);
  const design =
    PHI_PLAIN *
    factor *
    rootOf(concretePsi) *
    positive(perimeterIn, 'perimeterIn') *
    positive(depthIn, 'depthIn');
  return {
    design,
    step: {
      id: 'concrete.shear.two-way',
      title: 'Design punching shear of plain concrete',
      clause: aci(editions, 'Table 14.5.5.1(b)'),
      formula: 'φVn = φ · n · λ · √(fc) · bo · h',
      values: {
        φ: qty(PHI_PLAIN),
        n: qty(factor),
        λ: qty(1),
        fc: qty(concretePsi, 'psi'),
        bo: qty(perimeterIn, 'in'),
        h: qty(depthIn, 'in'),
      },
      result: qty(design, 'lb'),
      note: 'n = 4/3 + 8/(3β), not more than 2.66',
    },
  };
}

/**
 * φBn: 0.85 f′c A1 √(A2/A1), the root not more than 2. ACI 318-19 14.5.6 with φ of plain concrete; 22.8 with 0.65 for
 * reinforced members. `rootOfAreas`: √(A2/A1).
 */
export function bearingStrength(
  concretePsi: number,
  loadedIn2: number,
  rootOfAreas: number,
  editions: Editions,
  phi: number = PHI_PLAIN,
): Strength {
  rootOf(concretePsi);
  refuseUnless(Number.isFinite(rootOfAreas) && rootOfAreas >= 1, 'rootOfAreas', '√(A2/A1) is 1 or more.');
  const root = Math.min(2, rootOfAreas);
  const design = phi * 0.85 * concretePsi * positive(loadedIn2, 'loadedIn2') * root;
  return {
    design,
    step: {
      id: 'concrete.bearing',
      title: 'Design bearing strength of the concrete',
      clause: aci(editions, '14.5.6.1'),
      formula: 'φBn = φ · 0.85 · fc · A1 · r',
      values: { φ: qty(phi), fc: qty(concretePsi, 'psi'), A1: qty(loadedIn2, 'in²'), r: qty(root) },
      result: qty(design, 'lb'),
      note: 'r = √(A2/A1), not more than 2',
    },
  };
}
