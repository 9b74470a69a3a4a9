export * from './beam.ts';
export * from './bolts.ts';
export * from './section.ts';
