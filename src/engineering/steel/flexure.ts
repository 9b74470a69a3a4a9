import { notNegative, positive, qty, refuseUnless, type Editions, type Step } from '../trace/index.ts';
import { aisc, OMEGA, STEEL_E_PSI } from './grades.ts';
import { derive, type WideFlange } from './wide-flange.ts';

export interface SteelFlexure {
  readonly nominalLbIn: number;
  /** Nominal ÷ 1.67. */
  readonly allowableLbIn: number;
  readonly plasticLbIn: number;
  /** Longest unbraced length without lateral-torsional buckling, F2-5. */
  readonly plasticLengthIn: number;
  /** The same, lengthened where the flange buckles first: where the two strengths meet (AISC Manual part 3). */
  readonly plasticLengthOfFlangeIn: number;
  /** Unbraced length beyond which buckling is elastic, F2-6. */
  readonly elasticLengthIn: number;
  readonly governs: 'yielding' | 'lateral-torsional buckling' | 'flange local buckling';
  readonly steps: readonly Step[];
}

export interface SteelFlexureInput {
  readonly shape: WideFlange;
  readonly fyPsi: number;
  /** Distance between points that hold the compression flange or keep the section from twisting. */
  readonly unbracedIn: number;
  /** Lateral-torsional buckling modification factor, F1-1; 1.0 is safe. */
  readonly momentFactorCb: number;
  readonly editions: Editions;
}

/**
 * Moment factor for the unbraced length from the largest moment and those at its quarter points (absolute values
 * are taken here). AISC 360 Eq. F1-1; 1.14 for a uniformly loaded, end-braced span, 1.0 for a constant moment.
 */
export function momentFactor(largest: number, quarter: number, middle: number, threeQuarter: number): number {
  const most = Math.abs(largest);
  refuseUnless(most > 0, 'largest', 'The moment factor needs a moment that is not zero.');
  const sum = 2.5 * most + 3 * Math.abs(quarter) + 4 * Math.abs(middle) + 3 * Math.abs(threeQuarter);
  return (12.5 * most) / sum;
}

/**
 * Strong-axis bending of a W-shape with a compact web: AISC 360 F2 (yielding, lateral-torsional buckling) and F3
 * (flange local buckling of noncompact and slender flanges); ASD with F1(a). Moments lb-in.
 * Refuses a web that is not compact (F4, F5 are not covered) and nonsense lengths.
 */
export function flexuralStrength(input: SteelFlexureInput): SteelFlexure {
  const { shape, editions } = input;
  const fy = positive(input.fyPsi, 'fyPsi');
  const unbraced = notNegative(input.unbracedIn, 'unbracedIn');
  const cb = positive(input.momentFactorCb, 'momentFactorCb');
  refuseUnless(cb <= 3, 'momentFactorCb', 'The moment factor Cb does not exceed 3.0 (AISC 360 F1).');
  const { flangeCentroidsIn: ho, weakRadiusIn: ry, effectiveRadiusIn: rts, ...slender } = derive(shape);
  const rootEOverFy = Math.sqrt(STEEL_E_PSI / fy);
  refuseUnless(
    slender.webSlenderness <= 3.76 * rootEOverFy,
    'shape',
    `The web of ${shape.shape} is not compact at this yield strength (AISC 360 Table B4.1b); sections F4 and F5 are not covered.`,
  );

  const sx = shape.sectionIn3;
  const plastic = fy * shape.plasticIn3;
  const elastic = 0.7 * fy * sx;
  const lp = 1.76 * ry * rootEOverFy;
  const jOverSh = shape.torsionIn4 / (sx * ho);
  const stressRatio = (0.7 * fy) / STEEL_E_PSI;
  const lr =
    ((1.95 * rts) / stressRatio) * Math.sqrt(jOverSh + Math.sqrt(jOverSh ** 2 + 6.76 * stressRatio ** 2));

  const steps: Step[] = [
    {
      id: 'steel.flexure.Mp',
      title: 'Plastic moment',
      clause: aisc(editions, 'Eq. F2-1'),
      formula: 'Mp = Fy · Zx',
      values: { Fy: qty(fy, 'psi'), Zx: qty(shape.plasticIn3, 'in³') },
      result: qty(plastic, 'lb-in'),
    },
    {
      id: 'steel.flexure.Lp',
      title: 'Longest unbraced length at the plastic moment',
      clause: aisc(editions, 'Eq. F2-5'),
      formula: 'Lp = 1.76 · ry · √(E / Fy)',
      values: { ry: qty(ry, 'in'), E: qty(STEEL_E_PSI, 'psi'), Fy: qty(fy, 'psi') },
      result: qty(lp, 'in'),
    },
    {
      id: 'steel.flexure.Lr',
      title: 'Unbraced length at which buckling turns elastic',
      clause: aisc(editions, 'Eq. F2-6'),
      formula:
        'Lr = 1.95 · rts · E / (0.7 · Fy) · √(J / (Sx · ho) + √((J / (Sx · ho))^2 + 6.76 · (0.7 · Fy / E)^2))',
      values: {
        rts: qty(rts, 'in'),
        E: qty(STEEL_E_PSI, 'psi'),
        Fy: qty(fy, 'psi'),
        J: qty(shape.torsionIn4, 'in⁴'),
        Sx: qty(sx, 'in³'),
        ho: qty(ho, 'in'),
      },
      result: qty(lr, 'in'),
    },
  ];

  let buckling = plastic;
  if (unbraced > lr) {
    const slenderness = unbraced / rts;
    const critical =
      ((cb * Math.PI ** 2 * STEEL_E_PSI) / slenderness ** 2) *
      Math.sqrt(1 + 0.078 * jOverSh * slenderness ** 2);
    buckling = Math.min(plastic, critical * sx);
    steps.push({
      id: 'steel.flexure.Fcr',
      title: 'Elastic lateral-torsional buckling stress',
      clause: aisc(editions, 'Eq. F2-4'),
      formula: 'Fcr = Cb · π² · E / (Lb / rts)^2 · √(1 + 0.078 · J / (Sx · ho) · (Lb / rts)^2)',
      values: {
        Cb: qty(cb),
        E: qty(STEEL_E_PSI, 'psi'),
        Lb: qty(unbraced, 'in'),
        rts: qty(rts, 'in'),
        J: qty(shape.torsionIn4, 'in⁴'),
        Sx: qty(sx, 'in³'),
        ho: qty(ho, 'in'),
      },
      result: qty(critical, 'psi'),
    });
  } else if (unbraced > lp) {
    buckling = Math.min(plastic, cb * (plastic - ((plastic - elastic) * (unbraced - lp)) / (lr - lp)));
    steps.push({
      id: 'steel.flexure.LTB',
      title: 'Moment at lateral-torsional buckling, not more than the plastic moment',
      clause: aisc(editions, 'Eq. F2-2'),
      formula: 'Mn = Cb · (Mp − (Mp − 0.7 · Fy · Sx) · (Lb − Lp) / (Lr − Lp))',
      values: {
        Cb: qty(cb),
        Mp: qty(plastic, 'lb-in'),
        Fy: qty(fy, 'psi'),
        Sx: qty(sx, 'in³'),
        Lb: qty(unbraced, 'in'),
        Lp: qty(lp, 'in'),
        Lr: qty(lr, 'in'),
      },
      result: qty(buckling, 'lb-in'),
    });
  }

  const flange = flangeBuckling(input, plastic, elastic, slender.flangeSlenderness, slender.webSlenderness);
  if (flange.step !== undefined) steps.push(flange.step);
  const nominal = Math.min(plastic, buckling, flange.momentLbIn);
  const governs =
    nominal === plastic
      ? 'yielding'
      : flange.momentLbIn <= buckling
        ? 'flange local buckling'
        : 'lateral-torsional buckling';
  steps.push({
    id: 'steel.flexure.allowable',
    title: 'Allowable moment',
    clause: aisc(editions, 'F1(a)'),
    formula: 'Ma = Mn / Ω',
    values: { Mn: qty(nominal, 'lb-in'), Ω: qty(OMEGA.flexure) },
    result: qty(nominal / OMEGA.flexure, 'lb-in'),
    note: `Governed by ${governs}.`,
  });
  return {
    nominalLbIn: nominal,
    allowableLbIn: nominal / OMEGA.flexure,
    plasticLbIn: plastic,
    plasticLengthIn: lp,
    plasticLengthOfFlangeIn: lp + ((lr - lp) * (plastic - flange.momentLbIn)) / (plastic - elastic),
    elasticLengthIn: lr,
    governs,
    steps,
  };
}

/** F3: what the compression flange allows. The plastic moment, and no step, where it is compact. */
function flangeBuckling(
  input: SteelFlexureInput,
  plastic: number,
  elastic: number,
  slenderness: number,
  webSlenderness: number,
): { readonly momentLbIn: number; readonly step?: Step } {
  const { shape, fyPsi: fy, editions } = input;
  const compact = 0.38 * Math.sqrt(STEEL_E_PSI / fy);
  const noncompact = Math.sqrt(STEEL_E_PSI / fy);
  if (slenderness <= compact) return { momentLbIn: plastic };
  if (slenderness <= noncompact) {
    const momentLbIn = plastic - ((plastic - elastic) * (slenderness - compact)) / (noncompact - compact);
    return {
      momentLbIn,
      step: {
        id: 'steel.flexure.FLB',
        title: 'Moment at local buckling of the noncompact flange',
        clause: aisc(editions, 'Eq. F3-1'),
        formula: 'Mn = Mp − (Mp − 0.7 · Fy · Sx) · (λ − λpf) / (λrf − λpf)',
        values: {
          Mp: qty(plastic, 'lb-in'),
          Fy: qty(fy, 'psi'),
          Sx: qty(shape.sectionIn3, 'in³'),
          λ: qty(slenderness),
          λpf: qty(compact),
          λrf: qty(noncompact),
        },
        result: qty(momentLbIn, 'lb-in'),
      },
    };
  }
  const kc = Math.min(0.76, Math.max(0.35, 4 / Math.sqrt(webSlenderness)));
  const momentLbIn = (0.9 * STEEL_E_PSI * kc * shape.sectionIn3) / slenderness ** 2;
  return {
    momentLbIn,
    step: {
      id: 'steel.flexure.FLB',
      title: 'Moment at local buckling of the slender flange',
      clause: aisc(editions, 'Eq. F3-2'),
      formula: 'Mn = 0.9 · E · kc · Sx / λ^2',
      values: {
        E: qty(STEEL_E_PSI, 'psi'),
        kc: qty(kc),
        Sx: qty(shape.sectionIn3, 'in³'),
        λ: qty(slenderness),
      },
      result: qty(momentLbIn, 'lb-in'),
    },
  };
}
