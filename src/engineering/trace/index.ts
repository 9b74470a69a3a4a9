export * from './clause.ts';
export * from './quantity.ts';
export * from './refusal.ts';
export * from './step.ts';
