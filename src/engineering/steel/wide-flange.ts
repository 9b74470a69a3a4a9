import { Refusal } from '../trace/index.ts';

/** One rolled wide-flange shape; inches, and plf for the weight. */
export interface WideFlange {
  /** 'W8x18': nominal depth × pounds per foot. */
  readonly shape: string;
  readonly weightPlf: number;
  readonly areaIn2: number;
  readonly depthIn: number;
  readonly webIn: number;
  readonly flangeWidthIn: number;
  readonly flangeIn: number;
  /** k for design: outer face of the flange to the toe of the fillet on the web. */
  readonly filletToeIn: number;
  readonly inertiaIn4: number;
  readonly sectionIn3: number;
  readonly plasticIn3: number;
  readonly weakInertiaIn4: number;
  readonly torsionIn4: number;
}

/** What AISC 360 asks of a shape and the table above implies. */
export interface WideFlangeDerived {
  /** Distance between flange centroids ho = d − tf. */
  readonly flangeCentroidsIn: number;
  readonly weakRadiusIn: number;
  /** rts of F2-7; for doubly symmetric shapes rts² = Iy·ho ÷ (2 Sx) (F2 user note). */
  readonly effectiveRadiusIn: number;
  /** bf ÷ 2tf (B4.1b). */
  readonly flangeSlenderness: number;
  /** h ÷ tw with h = d − 2k (B4.1b). */
  readonly webSlenderness: number;
}

type Row = readonly [
  shape: string,
  weightPlf: number,
  areaIn2: number,
  depthIn: number,
  webIn: number,
  flangeWidthIn: number,
  flangeIn: number,
  filletToeIn: number,
  inertiaIn4: number,
  sectionIn3: number,
  plasticIn3: number,
  weakInertiaIn4: number,
  torsionIn4: number,
];

/**
 * AISC Steel Construction Manual, 15th ed., Table 1-1, the light W6 … W14 that one finds in houses. From memory;
 * held by the tests against area, inertia, plastic modulus and torsion constant of the plates and fillets.
 */
const ROWS: readonly Row[] = [
  ['W6x8.5', 8.5, 2.52, 5.83, 0.17, 3.94, 0.195, 0.445, 14.9, 5.1, 5.73, 1.99, 0.0333],
  ['W6x9', 9, 2.68, 5.9, 0.17, 3.94, 0.215, 0.465, 16.4, 5.56, 6.23, 2.2, 0.0405],
  ['W6x12', 12, 3.55, 6.03, 0.23, 4, 0.28, 0.53, 22.1, 7.31, 8.3, 2.99, 0.0903],
  ['W6x15', 15, 4.43, 5.99, 0.23, 5.99, 0.26, 0.51, 29.1, 9.72, 10.8, 9.32, 0.101],
  ['W6x16', 16, 4.74, 6.28, 0.26, 4.03, 0.405, 0.655, 32.1, 10.2, 11.7, 4.43, 0.223],
  ['W6x20', 20, 5.87, 6.2, 0.26, 6.02, 0.365, 0.615, 41.4, 13.4, 14.9, 13.3, 0.24],
  ['W6x25', 25, 7.34, 6.38, 0.32, 6.08, 0.455, 0.705, 53.4, 16.7, 18.9, 17.1, 0.461],
  ['W8x10', 10, 2.96, 7.89, 0.17, 3.94, 0.205, 0.505, 30.8, 7.81, 8.87, 2.09, 0.0426],
  ['W8x13', 13, 3.84, 7.99, 0.23, 4, 0.255, 0.555, 39.6, 9.91, 11.4, 2.73, 0.0871],
  ['W8x15', 15, 4.44, 8.11, 0.245, 4.02, 0.315, 0.615, 48, 11.8, 13.6, 3.41, 0.137],
  ['W8x18', 18, 5.26, 8.14, 0.23, 5.25, 0.33, 0.63, 61.9, 15.2, 17, 7.97, 0.172],
  ['W8x21', 21, 6.16, 8.28, 0.25, 5.27, 0.4, 0.7, 75.3, 18.2, 20.4, 9.77, 0.282],
  ['W8x24', 24, 7.08, 7.93, 0.245, 6.5, 0.4, 0.794, 82.7, 20.9, 23.1, 18.3, 0.346],
  ['W8x28', 28, 8.24, 8.06, 0.285, 6.54, 0.465, 0.859, 98, 24.3, 27.2, 21.7, 0.537],
  ['W8x31', 31, 9.13, 8, 0.285, 8, 0.435, 0.829, 110, 27.5, 30.4, 37.1, 0.536],
  ['W8x35', 35, 10.3, 8.12, 0.31, 8.02, 0.495, 0.889, 127, 31.2, 34.7, 42.6, 0.769],
  ['W8x40', 40, 11.7, 8.25, 0.36, 8.07, 0.56, 0.954, 146, 35.5, 39.8, 49.1, 1.12],
  ['W10x12', 12, 3.54, 9.87, 0.19, 3.96, 0.21, 0.51, 53.8, 10.9, 12.6, 2.18, 0.0547],
  ['W10x15', 15, 4.41, 9.99, 0.23, 4, 0.27, 0.57, 68.9, 13.8, 16, 2.89, 0.104],
  ['W10x17', 17, 4.99, 10.1, 0.24, 4.01, 0.33, 0.63, 81.9, 16.2, 18.7, 3.56, 0.156],
  ['W10x19', 19, 5.62, 10.2, 0.25, 4.02, 0.395, 0.695, 96.3, 18.8, 21.6, 4.29, 0.233],
  ['W10x22', 22, 6.49, 10.2, 0.24, 5.75, 0.36, 0.66, 118, 23.2, 26, 11.4, 0.239],
  ['W10x26', 26, 7.61, 10.3, 0.26, 5.77, 0.44, 0.74, 144, 27.9, 31.3, 14.1, 0.402],
  ['W10x30', 30, 8.84, 10.5, 0.3, 5.81, 0.51, 0.81, 170, 32.4, 36.6, 16.7, 0.622],
  ['W10x33', 33, 9.71, 9.73, 0.29, 7.96, 0.435, 0.935, 171, 35, 38.8, 36.6, 0.583],
  ['W10x39', 39, 11.5, 9.92, 0.315, 7.99, 0.53, 1.03, 209, 42.1, 46.8, 45, 0.976],
  ['W10x45', 45, 13.3, 10.1, 0.35, 8.02, 0.62, 1.12, 248, 49.1, 54.9, 53.4, 1.51],
  ['W12x14', 14, 4.16, 11.9, 0.2, 3.97, 0.225, 0.525, 88.6, 14.9, 17.4, 2.36, 0.0704],
  ['W12x16', 16, 4.71, 12, 0.22, 3.99, 0.265, 0.565, 103, 17.1, 20.1, 2.82, 0.103],
  ['W12x19', 19, 5.57, 12.2, 0.235, 4.01, 0.35, 0.65, 130, 21.3, 24.7, 3.76, 0.18],
  ['W12x22', 22, 6.48, 12.3, 0.26, 4.03, 0.425, 0.725, 156, 25.4, 29.3, 4.66, 0.293],
  ['W12x26', 26, 7.65, 12.2, 0.23, 6.49, 0.38, 0.68, 204, 33.4, 37.2, 17.3, 0.3],
  ['W12x30', 30, 8.79, 12.3, 0.26, 6.52, 0.44, 0.74, 238, 38.6, 43.1, 20.3, 0.457],
  ['W12x35', 35, 10.3, 12.5, 0.3, 6.56, 0.52, 0.82, 285, 45.6, 51.2, 24.5, 0.741],
  ['W12x40', 40, 11.7, 11.9, 0.295, 8.01, 0.515, 1.02, 307, 51.5, 57, 44.1, 0.906],
  ['W14x22', 22, 6.49, 13.7, 0.23, 5, 0.335, 0.735, 199, 29, 33.2, 7, 0.208],
  ['W14x26', 26, 7.69, 13.9, 0.255, 5.03, 0.42, 0.82, 245, 35.3, 40.2, 8.91, 0.358],
  ['W14x30', 30, 8.85, 13.8, 0.27, 6.73, 0.385, 0.785, 291, 42, 47.3, 19.6, 0.38],
  ['W14x34', 34, 10, 14, 0.285, 6.75, 0.455, 0.855, 340, 48.6, 54.6, 23.3, 0.569],
  ['W14x38', 38, 11.2, 14.1, 0.31, 6.77, 0.515, 0.915, 385, 54.6, 61.5, 26.7, 0.798],
  ['W14x43', 43, 12.6, 13.7, 0.305, 8, 0.53, 1.12, 428, 62.6, 69.6, 45.2, 1.05],
];

function fromRow(row: Row): WideFlange {
  return {
    shape: row[0],
    weightPlf: row[1],
    areaIn2: row[2],
    depthIn: row[3],
    webIn: row[4],
    flangeWidthIn: row[5],
    flangeIn: row[6],
    filletToeIn: row[7],
    inertiaIn4: row[8],
    sectionIn3: row[9],
    plasticIn3: row[10],
    weakInertiaIn4: row[11],
    torsionIn4: row[12],
  };
}

/** All shapes held, by nominal depth, then weight. */
export const wideFlanges: readonly WideFlange[] = ROWS.map(fromRow);

const BY_NAME: ReadonlyMap<string, WideFlange> = new Map(wideFlanges.map((shape) => [shape.shape, shape]));

/** Throws a Refusal for a shape the table does not hold. */
export function wideFlange(shape: string, path = 'member.shape'): WideFlange {
  const found = BY_NAME.get(shape);
  if (found === undefined) {
    throw new Refusal(path, `The steel table holds no ${shape}; it runs from W6x8.5 to W14x43.`);
  }
  return found;
}

export function derive(shape: WideFlange): WideFlangeDerived {
  const flangeCentroidsIn = shape.depthIn - shape.flangeIn;
  return {
    flangeCentroidsIn,
    weakRadiusIn: Math.sqrt(shape.weakInertiaIn4 / shape.areaIn2),
    effectiveRadiusIn: Math.sqrt((shape.weakInertiaIn4 * flangeCentroidsIn) / (2 * shape.sectionIn3)),
    flangeSlenderness: shape.flangeWidthIn / (2 * shape.flangeIn),
    webSlenderness: (shape.depthIn - 2 * shape.filletToeIn) / shape.webIn,
  };
}
