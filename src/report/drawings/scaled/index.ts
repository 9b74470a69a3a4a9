export { figuresDxf } from './dxf-writer.ts';
export type { DrawnOpening, FigureNote } from './drawn-opening.ts';
export { elevationFigure } from './elevation-figure.ts';
export { footingPlan, footingSection, type DrawnFooting, type DrawnPly } from './footing-figure.ts';
export type { Figure } from './figure.ts';
export { hangerFront, hangerSide, type DrawnHanger } from './hanger-figure.ts';
export { atLargestScale, type DrawingScale, type PaperRoom } from './scales.ts';
export { sectionFigure } from './section-figure.ts';
export { figureSvg, type WrittenSvg } from './svg-writer.ts';
