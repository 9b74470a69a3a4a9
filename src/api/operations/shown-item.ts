import type { ItemStanding, MarkReference } from '../../record/items/state.ts';
import type { VersionLine, VersionRecord } from '../../record/versions/store.ts';

/** How the record's own shapes are told to programs. */
export function markLine({ markId, number, word, reason, byName, at }: MarkReference) {
  return { markId, number, word, reason, byName, at: at.toISOString() };
}

export function itemLine({ facts, state, stale }: ItemStanding) {
  const { itemId, openingId, kind, key, title, reviewable, newest, submittedAt, mark } = facts;
  return {
    itemId,
    openingId,
    kind,
    key,
    title,
    reviewable,
    state: state.is,
    stale: stale.map((reason) => reason.sentence),
    newest: newest && {
      versionId: newest.versionId,
      number: newest.number,
      hash: newest.hash,
      reason: newest.reason,
      authorName: newest.authorName,
      authorRole: newest.authorRole,
      at: newest.at.toISOString(),
    },
    submittedAt: submittedAt?.toISOString() ?? null,
    mark: mark && markLine(mark),
  };
}

export function versionLine(line: VersionLine) {
  const { versionId, number, hash, engineVersion, reason, authorName, authorRole, at, submittedAt } = line;
  return {
    versionId,
    number,
    hash,
    engineVersion,
    reason,
    authorName,
    authorRole,
    at: at.toISOString(),
    submittedAt: submittedAt?.toISOString() ?? null,
    marks: line.marks.map(markLine),
  };
}

export function versionWhole(version: VersionRecord) {
  const { itemId, content, restsOn, calculation } = version;
  const { submittedAt: _submitted, marks: _marks, ...line } = versionLine(version);
  return { itemId, ...line, content, restsOn: [...restsOn], calculation };
}
