export * from './below-the-pack.ts';
export * from './footing.ts';
export * from './found-concrete.ts';
export * from './irc-tables.ts';
export * from './pad.ts';
export * from './plain-concrete.ts';
export * from './required-pad.ts';
