export * from './header-spans.ts';
export * from './holes-and-notches.ts';
export * from './king-studs.ts';
export * from './minimum-bearing.ts';
