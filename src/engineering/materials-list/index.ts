export * from './materials-list.ts';
export * from './shoring-pieces.ts';
export * from './stock.ts';
