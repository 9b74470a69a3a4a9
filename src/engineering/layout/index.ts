export * from './beam-outline.ts';
export * from './lifting.ts';
export * from './measured.ts';
export * from './opening-layout.ts';
export * from './packs.ts';
