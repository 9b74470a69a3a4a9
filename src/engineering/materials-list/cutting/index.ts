export * from './cut.ts';
export { usedIn, type CuttingProblem, type Stick } from './problem.ts';
