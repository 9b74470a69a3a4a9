import type { Beam } from '../../engineering/proposal/design.ts';
import type { Survey } from '../../engineering/proposal/survey.ts';
import { formatInches, parseLength } from '../../engineering/units/index.ts';

export const kinds = ['sawn', 'composite', 'glulam', 'steel'] as const;

/** What is known of the beam before it is chosen: the one that is there, or three jacks under a flush one. */
export const usual: Omit<Beam, 'member'> = { placement: 'flush', bearingLeftIn: 4.5, bearingRightIn: 4.5 };

/** The boxes of the question, for links and forms that ask it again. */
export const QUESTION_BOXES = ['placement', 'bearingLeftIn', 'bearingRightIn', 'depth', 'kind'] as const;

export interface Question {
  readonly beam: Omit<Beam, 'member'>;
  readonly depthIn: number | null;
  readonly kinds: readonly (typeof kinds)[number][];
}

export function readQuestion(
  typed: Readonly<Record<string, string>>,
  start: Omit<Beam, 'member'>,
  survey: Survey,
): { values: Record<string, string>; errors: Record<string, string>; asked: Question } {
  const length = (inches: number) => formatInches(inches, { to: 16 });
  const values: Record<string, string> = {
    placement: typed.placement ?? start.placement,
    bearingLeftIn: typed.bearingLeftIn ?? length(start.bearingLeftIn),
    bearingRightIn: typed.bearingRightIn ?? length(start.bearingRightIn),
    depth: typed.depth ?? (survey.depthAvailableIn === undefined ? '' : length(survey.depthAvailableIn)),
    kind: typed.kind ?? '',
  };
  const errors: Record<string, string> = {};
  const read = (name: string, label: string): number => {
    const reading = parseLength(values[name] ?? '', { bareNumber: 'nothing' });
    if ('inches' in reading && reading.inches > 0) return reading.inches;
    errors[name] = `${label}: ${'problem' in reading ? reading.problem : 'more than zero.'}`;
    return 0;
  };
  const beam = {
    ...start,
    placement: values.placement === 'dropped' ? ('dropped' as const) : ('flush' as const),
    bearingLeftIn: read('bearingLeftIn', 'Bearing left'),
    bearingRightIn: read('bearingRightIn', 'Bearing right'),
  };
  const depthIn = values.depth?.trim() === '' ? null : read('depth', 'Depth available');
  const kind = kinds.find((one) => one === values.kind);
  return { values, errors, asked: { beam, depthIn, kinds: kind === undefined ? kinds : [kind] } };
}
