import type { Actor } from '../../actor.ts';
import type { Picture } from '../../report/pictures/index.ts';
import type { Calculation } from '../calculation.ts';
import type { RecordDeps } from '../use-case.ts';
import { previewVersion } from '../versions/preview.ts';
import { calculationView, type CalculationView } from './calculation-view.ts';
import { picturesOfPreview } from './pictures.ts';

export interface PreviewView {
  readonly made: Calculation | null;
  readonly calculation: CalculationView | null;
  readonly pictures: readonly Picture[];
}

/** What is being typed, calculated and drawn as pages show it, on the newest versions of what it will rest on. */
export async function previewView(
  deps: RecordDeps,
  actor: Actor,
  item: Parameters<typeof previewVersion>[2]['item'],
  content: unknown,
): Promise<PreviewView> {
  const { calculation, grounds } = await previewVersion(deps, actor, { item, content });
  return {
    made: calculation,
    calculation: calculationView(calculation),
    pictures: picturesOfPreview(item.kind, content, grounds, calculation),
  };
}
