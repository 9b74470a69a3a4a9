export { analyseBeam, shearAt, valueAt } from './analyse-beam.ts';
export type { BeamAnalysis, Piece, Reaction, Section } from './beam-analysis.ts';
export type {
  CoupleLoad,
  BeamLoad,
  PartialLoad,
  PointLoad,
  TrapezoidalLoad,
  UniformLoad,
} from './beam-loads.ts';
export { panelsOf, type BeamModel, type BeamSupport, type Panel } from './beam-model.ts';
export {
  envelopeOf,
  envelopeWithin,
  type BeamEnvelope,
  type Combination,
  type CombinationEnvelope,
  type CombinationResult,
  type Envelope,
  type Governing,
  type GoverningRange,
  type ReactionEnvelope,
  type SectionEnvelope,
} from './envelope.ts';
export { extremesOf, forceExtremesOf, type Extreme, type Extremes, type Range } from './extremes.ts';
export {
  combine,
  solveLoadCases,
  superpose,
  type Arrangement,
  type LoadCase,
  type SolvedCases,
} from './load-cases.ts';
export type { PatternRule } from './patterns.ts';
export { samplesOf, type Sample } from './samples.ts';
export { loadsForShear, shearNearSupports, type SupportShear } from './shear-near-supports.ts';
