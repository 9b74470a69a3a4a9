import type { Clause } from '../engineering/trace/clause.ts';
import { clauseWords } from './check-view.ts';

/** A notice of a calculation in words ready to print; `templates/parts/notices.njk` shows several as one calm group. */
export interface NoticeView {
  readonly caution: boolean;
  /** What it is about, where the words begin with it: 'Collapse'; '' otherwise. */
  readonly lead: string;
  readonly text: string;
  readonly clause: string;
}

/** 'Collapse: Nobody cuts …': a short beginning before a colon says what the rest is about. */
const LEAD = /^([^:.]{1,40}): (?=\S)/;

export function noticeView(notice: {
  readonly severity: string;
  readonly text: string;
  readonly clause?: Clause | undefined;
}): NoticeView {
  const lead = LEAD.exec(notice.text);
  return {
    caution: notice.severity === 'caution',
    lead: lead?.[1] ?? '',
    text: lead === null ? notice.text : notice.text.slice(lead[0].length),
    clause: clauseWords(notice.clause),
  };
}
