export * from './assess.ts';
export * from './cautions.ts';
export * from './cuts.ts';
export * from './overcurrent.ts';
export * from './service.ts';
export * from './words.ts';
