import type { Typed } from '../web/forms/spec.ts';

type Params = Readonly<Record<string, string>>;

/** The pages to which forms of an inspection come back, filled. */
export const pageOfVisit = ({ projectId = '', visitId = '' }: Params) =>
  `/projects/${projectId}/visits/${visitId}`;
export const pageOfChecklist = ({ projectId = '', openingId = '' }: Params) =>
  `/projects/${projectId}/openings/${openingId}/checklist`;

/** The boxes of a finding as the page of the visit names them: each check has boxes of its own. */
export function findingBoxes(fields: Typed): Typed {
  const { checkId = '', reason = '', location = '', square = '', sheetId = '' } = fields;
  return {
    [`reason.${checkId}`]: reason,
    [`location.${checkId}`]: location,
    [`square.${checkId}`]: square,
    [`sheetId.${checkId}`]: sheetId,
  };
}
