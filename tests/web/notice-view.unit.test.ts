import { expect, it } from 'vitest';
import { noticeView } from '../../src/web/notice-view.ts';

it('says first what a notice is about, where its words begin with that', () => {
  const about = (text: string) => {
    const { lead, text: rest } = noticeView({ severity: 'caution', text });
    return [lead, rest];
  };
  expect(about('Collapse: Nobody cuts a stud.')).toEqual(['Collapse', 'Nobody cuts a stud.']);
  expect(about('The beam is wider than the studs: center it, or build the pack as wide.')).toEqual([
    'The beam is wider than the studs',
    'center it, or build the pack as wide.',
  ]);
  // A whole sentence, or a long way to the colon, is no heading.
  expect(about('It is heavy. Lift it so: two persons.')[0]).toBe('');
  expect(
    about(`With its top level with the joists it hangs 2 5/8" below them: the jacks are lower.`)[0],
  ).toBe('');
  expect(about('At 1:12 it slips.')[0]).toBe('');
});
