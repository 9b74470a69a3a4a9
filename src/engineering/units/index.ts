export * from './conversions.ts';
export * from './length.ts';
