import { finite, positive, refuseUnless } from '../trace/refusal.ts';
import type { WoodMaterial } from './wood-material.ts';

/**
 * Structural composite lumber. There is no table of it in NDS: each product has its report (NDS 8.2). The
 * classes here are generic, low in the range that public reports show, and say so; the report of what is
 * delivered governs, and is entered as a declared property sheet.
 */
export interface CompositeProperties {
  readonly fbPsi: number;
  readonly ftPsi?: number;
  readonly fvPsi: number;
  readonly fcPerpPsi: number;
  readonly fcPsi?: number;
  readonly ePsi: number;
  readonly eminPsi: number;
  readonly specificGravity: number;
  /** Depth at which fbPsi holds; Fb · (referenceDepthIn ÷ d)^depthExponent elsewhere. */
  readonly referenceDepthIn: number;
  readonly depthExponent: number;
  readonly densityPcf: number;
}

export interface DeclaredProperties extends CompositeProperties {
  /** Number or title of the report the figures are copied from. */
  readonly report: string;
}

export interface CompositeClass extends CompositeProperties {
  readonly name: string;
  /** Thickness of one ply as commonly stocked, in. */
  readonly thicknessesIn: readonly number[];
  /** Depths as commonly stocked, in. */
  readonly depthsIn: readonly number[];
}

const LVL_DEPTHS_IN = [5.5, 7.25, 9.25, 9.5, 11.25, 11.875, 14, 16, 18, 20, 24];
const PSL_DEPTHS_IN = [9.25, 9.5, 11.25, 11.875, 14, 16, 18];
const LSL_DEPTHS_IN = [5.5, 7.25, 8.625, 9.25, 9.5, 11.25, 11.875, 14, 16, 18];

/** Reference depth of every public report met. */
const REFERENCE_DEPTH_IN = 12;

type Figures = readonly [
  fb: number,
  ft: number,
  fv: number,
  fcPerp: number,
  fc: number,
  eKsi: number,
  eminKsi: number,
  depthExponent: number,
  densityPcf: number,
];

function composite(
  name: string,
  figures: Figures,
  thicknessesIn: readonly number[],
  depthsIn: readonly number[],
): CompositeClass {
  const [fbPsi, ftPsi, fvPsi, fcPerpPsi, fcPsi, eKsi, eminKsi, depthExponent, densityPcf] = figures;
  return {
    name,
    fbPsi,
    ftPsi,
    fvPsi,
    fcPerpPsi,
    fcPsi,
    ePsi: eKsi * 1000,
    eminPsi: eminKsi * 1000,
    specificGravity: 0.5,
    referenceDepthIn: REFERENCE_DEPTH_IN,
    depthExponent,
    densityPcf,
    thicknessesIn,
    depthsIn,
  };
}

/** Generic classes (common practice: figures low in the range of public reports; no product is meant). */
export const COMPOSITE_CLASSES: readonly CompositeClass[] = [
  composite('LVL 1.9E', [2250, 1500, 285, 750, 2350, 1900, 966, 0.136, 42], [1.75], LVL_DEPTHS_IN),
  composite('LVL 2.0E', [2600, 1555, 285, 750, 2510, 2000, 1016, 0.136, 42], [1.75], LVL_DEPTHS_IN),
  composite('PSL 2.0E', [2900, 2025, 290, 625, 2900, 2000, 1016, 0.111, 45], [3.5, 5.25, 7], PSL_DEPTHS_IN),
  composite('PSL 2.2E', [2900, 2025, 290, 750, 2900, 2200, 1118, 0.111, 45], [3.5, 5.25, 7], PSL_DEPTHS_IN),
  composite('LSL 1.3E', [1700, 1075, 400, 680, 1400, 1300, 660, 0.092, 42], [1.75, 3.5], LSL_DEPTHS_IN),
  composite('LSL 1.55E', [2325, 1070, 310, 800, 2050, 1550, 788, 0.092, 42], [1.75, 3.5], LSL_DEPTHS_IN),
];

/**
 * Values of a generic class.
 * @throws Refusal for a class not held.
 */
export function compositeMaterial(name: string, path = 'member.class'): WoodMaterial {
  const found = COMPOSITE_CLASSES.find((candidate) => candidate.name === name);
  refuseUnless(
    found !== undefined,
    path,
    `${name} is not held; there are ${COMPOSITE_CLASSES.map((c) => c.name).join(', ')}, or declare the report's values.`,
  );
  return {
    ...material(name, found),
    clause: {
      standard: 'Practice',
      edition: '',
      section: `generic ${name}; the maker’s report governs`,
      provenance: 'common practice',
    },
    note: 'Generic values; the report of the product delivered governs.',
  };
}

/**
 * Values copied from a product's report.
 * @throws Refusal for values that can't be (zero, negative, Emin above E).
 */
export function declaredCompositeMaterial(
  name: string,
  declared: DeclaredProperties,
  path = 'member.declared',
): WoodMaterial {
  refuseUnless(
    declared.report.trim() !== '',
    `${path}.report`,
    'Name the report the declared values are copied from.',
  );
  for (const key of POSITIVE_KEYS) positive(declared[key], `${path}.${key}`);
  if (declared.ftPsi !== undefined) positive(declared.ftPsi, `${path}.ftPsi`);
  if (declared.fcPsi !== undefined) positive(declared.fcPsi, `${path}.fcPsi`);
  const exponent = finite(declared.depthExponent, `${path}.depthExponent`);
  refuseUnless(
    exponent >= 0 && exponent <= 1,
    `${path}.depthExponent`,
    'The depth exponent lies between 0 and 1.',
  );
  refuseUnless(
    declared.eminPsi < declared.ePsi,
    `${path}.eminPsi`,
    'Emin is the lower, stability value of E and must be less than E.',
  );
  return {
    ...material(name, declared),
    clause: { standard: 'Declared', edition: '', section: declared.report, provenance: 'declared' },
  };
}

const POSITIVE_KEYS = [
  'fbPsi',
  'fvPsi',
  'fcPerpPsi',
  'ePsi',
  'eminPsi',
  'specificGravity',
  'referenceDepthIn',
  'densityPcf',
] as const;

function material(name: string, properties: CompositeProperties): Omit<WoodMaterial, 'clause'> {
  return {
    family: 'composite',
    label: name,
    reference: {
      fbPsi: properties.fbPsi,
      // A sheet without them can't be used in tension or as a column; zero makes such a check fail.
      ftPsi: properties.ftPsi ?? 0,
      fvPsi: properties.fvPsi,
      fcPerpPsi: properties.fcPerpPsi,
      fcPsi: properties.fcPsi ?? 0,
      ePsi: properties.ePsi,
      eminPsi: properties.eminPsi,
    },
    fbNegativePsi: properties.fbPsi,
    eminWeakPsi: properties.eminPsi,
    fbWeakPsi: properties.fbPsi,
    specificGravity: properties.specificGravity,
    densityPcf: properties.densityPcf,
    volume: {
      kind: 'depth',
      referenceDepthIn: properties.referenceDepthIn,
      exponent: properties.depthExponent,
    },
  };
}
