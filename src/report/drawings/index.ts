export { drawCutPlan, type CutPlanInput, type CutStick } from './cut-plan.ts';
export { drawDiagrams } from './diagrams.ts';
export { drawLayoutElevation } from './layout-elevation.ts';
export { drawLoadPicture } from './load-picture.ts';
export { drawNailingPattern } from './nailing-pattern.ts';
export { drawTimeline, type TimelineMark } from './timeline.ts';
export type * from './types.ts';
