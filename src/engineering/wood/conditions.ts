import { finite, refuseUnless } from '../trace/refusal.ts';

/** What the wood lives in, and how it stands among its neighbours. */
export interface ServiceConditions {
  /** Moisture above 19 percent in service (sawn), 16 percent (glulam and composites). */
  readonly wet: boolean;
  /** Sustained temperature, °F. */
  readonly temperatureF: number;
  /** Incised for pressure treatment; dimension lumber only. */
  readonly incised: boolean;
  /** Three or more members, touching or 24 in apart at most, joined by a load-distributing element. */
  readonly repetitive: boolean;
  /** Seasoned when built in; green timbers creep more (NDS 3.5.2). */
  readonly seasoned: boolean;
}

/** Dry, indoors, alone, seasoned. */
export const ORDINARY_CONDITIONS: ServiceConditions = {
  wet: false,
  temperatureF: 75,
  incised: false,
  repetitive: false,
  seasoned: true,
};

const HOTTEST_F = 150;

export function validateConditions(conditions: ServiceConditions, path = 'conditions'): void {
  finite(conditions.temperatureF, `${path}.temperatureF`);
  refuseUnless(
    conditions.temperatureF <= HOTTEST_F,
    `${path}.temperatureF`,
    'NDS gives no factor for wood sustained above 150 °F.',
  );
}
