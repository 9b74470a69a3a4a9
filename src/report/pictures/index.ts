export {
  beamLoadPicture,
  beamPictures,
  diagramPicture,
  loadPicture,
  type BeamProposal,
} from './beam-pictures.ts';
export { cutPlanPicture } from './cut-plan-picture.ts';
export { footingPictures, type FootingProposal } from './footing-picture.ts';
export { hangerPictures, type HangerProposal } from './hanger-picture.ts';
export { layoutPicture } from './layout-picture.ts';
export { nailingPicture } from './nailing-picture.ts';
export { shoringPictures, type ShoringProposal } from './shoring-picture.ts';
export { surveyPicture } from './survey-picture.ts';
export type { Picture } from './picture.ts';
