import { beamForm } from './beam/form.ts';
import { beamKind } from './beam/kind.ts';
import { criteriaForm } from './criteria/form.ts';
import { criteriaKind } from './criteria/kind.ts';
import type { ItemKindDefinition } from './definition.ts';
import { drawingForm } from './drawing/form.ts';
import { drawingKind } from './drawing/kind.ts';
import { fasteningForm } from './fastening/form.ts';
import { fasteningKind } from './fastening/kind.ts';
import { footingForm } from './footing/form.ts';
import { footingKind } from './footing/kind.ts';
import type { KindForms } from './form.ts';
import { hangerForm } from './hanger/form.ts';
import { hangerKind } from './hanger/kind.ts';
import { kindRegistry, type KindRegistry } from './registry.ts';
import { serviceForm } from './service/form.ts';
import { serviceKind } from './service/kind.ts';
import { shoringForm } from './shoring/form.ts';
import { shoringKind } from './shoring/kind.ts';
import { supportForm } from './support/form.ts';
import { supportKind } from './support/kind.ts';
import { surveyForm } from './survey/form.ts';
import { surveyKind } from './survey/kind.ts';

/** Changes whenever a formula or a table of the engine does: every version says which one calculated it. */
export const ENGINE_VERSION = '1.2.0';

export const allKinds: KindRegistry = kindRegistry(ENGINE_VERSION, [
  criteriaKind,
  surveyKind,
  serviceKind,
  beamKind,
  supportKind,
  footingKind,
  hangerKind,
  fasteningKind,
  shoringKind,
  drawingKind,
] as ItemKindDefinition<unknown>[]);

export const allForms: KindForms = new Map(
  [
    criteriaForm,
    surveyForm,
    serviceForm,
    beamForm,
    supportForm,
    footingForm,
    hangerForm,
    fasteningForm,
    shoringForm,
    drawingForm,
  ].map((form) => [form.kind, form]),
);
