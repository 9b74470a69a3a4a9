export * from './conversions.ts';
export * from './length-format.ts';
export * from './length.ts';
