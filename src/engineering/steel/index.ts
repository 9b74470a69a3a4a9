export * from './beam.ts';
export * from './bearing-plate.ts';
export * from './deflection.ts';
export * from './flexure.ts';
export * from './grades.ts';
export * from './shear.ts';
export * from './web-at-load.ts';
export * from './wide-flange.ts';
