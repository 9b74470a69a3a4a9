import { demoShoring as ofTheHouse } from '../../../src/demo/cinder-ferry.ts';
import type { Shoring } from '../../../src/engineering/proposal/design.ts';

/** Temporary walls of the demo house, for tests. */
export const demoShoring: Shoring = { ...ofTheHouse, offsetIn: 24, storeysShored: 2, bracesRelanded: true };
