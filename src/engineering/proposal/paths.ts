import { Refusal } from '../trace/index.ts';
import { criteriaSchema } from './criteria.ts';
import { beamSchema, shoringSchema } from './design.ts';
import { surveySchema } from './survey.ts';

/** Does some work; what it refuses is refused with the path of the field that the person filled in. */
export function refusingAt<Result>(rename: (path: string) => string, work: () => Result): Result {
  try {
    return work();
  } catch (error) {
    if (error instanceof Refusal) throw new Refusal(rename(error.path), error.message);
    throw error;
  }
}

/** The engine speaks of the pack, the kings and the plate; the support's entry has one field for each of their words. */
export function supportField(path: string): string {
  switch (path) {
    case 'plate.species':
      return 'plateSpecies';
    case 'plate.grade':
      return 'plateGrade';
    case 'pack.plies':
    case 'member.plies':
      return 'jacks';
    case 'kings.plies':
      return 'kings';
    default:
      return path
        .replace(/^(pack|kings|member)\./, '')
        .replace(/^squash\.(left|right)\.below\./, 'squashBlocks.on.')
        .replace(/^squash(Blocks)?\.(left|right)\./, 'squashBlocks.')
        .replace(/^girder-post\.(left|right)\.(post\.)?/, 'girderPost.');
  }
}

/** 'strips.1.toIn' → 'survey.strips.1.toIn': the beam's calculation reads three entries of an opening. */
export function openingField(path: string): string {
  const [head = ''] = path.split('.');
  const holder = (
    [
      ['beam', beamSchema.shape],
      ['survey', surveySchema.shape],
      ['criteria', criteriaSchema.shape],
    ] as const
  ).find(([, shape]) => head in shape);
  return holder === undefined ? path : `${holder[0]}.${path}`;
}

/** 'footing.left.foundWidthIn' → 'foundWidthIn'. */
export function footingField(path: string): string {
  return path.replace(/^footing\.(left|right)\./, '');
}

/** 'offsetIn' → 'shoring.offsetIn'; what the shoring can't carry may also be the survey's. */
export function shoringField(path: string): string {
  const [head = ''] = path.split('.');
  return head in shoringSchema.shape ? `shoring.${path}` : openingField(path);
}

/** 'supports.left.size' → 'supports.0.size': the layout names packs by their end, the input by their place. */
export function packField(path: string, supports: readonly { readonly end: 'left' | 'right' }[]): string {
  const [list, end, ...rest] = path.split('.');
  const index = supports.findIndex((support) => support.end === end);
  return list === 'supports' && index >= 0
    ? ['supports', String(index), ...rest].join('.')
    : openingField(path);
}
