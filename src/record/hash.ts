import { createHash } from 'node:crypto';
import { canonicalJson, sha256Hex } from './canonical.ts';

/** What a version's hash covers. `content` and `restsOn` are the values, not their text. */
export interface HashedVersion {
  readonly kind: string;
  readonly content: unknown;
  readonly restsOn: unknown;
  readonly calculationHash: string;
  readonly engineVersion: string;
}

/** The hash that a mark names: the same content on the same grounds by the same engine has the same hash. */
export function versionHash(version: HashedVersion): string {
  const { kind, content, restsOn, calculationHash, engineVersion } = version;
  return sha256Hex(canonicalJson({ kind, content, restsOn, calculationHash, engineVersion }));
}

/** The hash of a calculation's canonical text; '' (a kind without calculation) has one, too. */
export function calculationHash(calculation: string): string {
  return sha256Hex(calculation);
}

/** The hash of an approved set's canonical content. */
export function setHash(content: string): string {
  return sha256Hex(content);
}

/** What the first event of a project names as the hash before it. */
export const GENESIS_HASH = '0'.repeat(64);

export interface HashedEvent {
  readonly projectId: string;
  readonly seq: number;
  readonly at: Date;
  readonly actorId: string | null;
  readonly actorName: string;
  readonly type: string;
  readonly payload: unknown;
  readonly prevHash: string;
}

/** The hash of an event, which the next event names: no line of the log can change without all that follow. */
export function eventHash(event: HashedEvent): string {
  const { projectId, seq, actorId, actorName, type, payload, prevHash } = event;
  const at = event.at.toISOString();
  return sha256Hex(canonicalJson({ projectId, seq, at, actorId, actorName, type, payload, prevHash }));
}

/** A line of a checklist, as its hash covers it. */
export interface HashedCheck {
  readonly id: string;
  /** Null where it comes from something without versions; `source` then says where from. */
  readonly versionId: string | null;
  readonly source: string;
  /** The added visit that it belongs to; '' for the usual ones. */
  readonly localVisit: string;
  readonly key: string;
  readonly ordinal: number;
  readonly visitKind: string;
  readonly title: string;
  readonly criterion: string;
  readonly clause: string;
  readonly howToLook: string;
  readonly photoRequired: boolean;
  readonly holdPoint: string;
}

/** One hash over all lines of a set's checklist, added in their order. */
export function checklistHash(): { add: (check: HashedCheck) => void; digest: () => string } {
  const sum = createHash('sha256');
  return {
    add({ id, versionId, key, ordinal, visitKind, title, criterion, clause, howToLook, ...rest }) {
      const { photoRequired, holdPoint, source, localVisit } = rest;
      const said = { id, versionId, key, ordinal, visitKind, title, criterion, clause, howToLook };
      sum.update(`${canonicalJson({ ...said, photoRequired, holdPoint, source, localVisit })}\n`);
    },
    digest: () => sum.digest('hex'),
  };
}

/** What the row of a file says besides its bytes and where it hangs. */
export interface AttachmentDetails {
  readonly originalName: string;
  readonly caption: string;
  readonly widthPx: number | null;
  readonly heightPx: number | null;
  readonly capturedAt: Date | null;
  readonly latitude: number | null;
  readonly longitude: number | null;
  readonly pageCount: number | null;
}

/** The hash of these: an event is read by more people than may know where a photo was taken. */
export function attachmentDetailsHash(details: AttachmentDetails): string {
  const { originalName, caption, widthPx, heightPx, latitude, longitude, pageCount } = details;
  const capturedAt = details.capturedAt?.toISOString() ?? null;
  return sha256Hex(
    canonicalJson({ originalName, caption, widthPx, heightPx, capturedAt, latitude, longitude, pageCount }),
  );
}

export interface DrawingWords {
  readonly page: number;
  readonly text: string;
}

/** SHA-256 over the words of a drawing, its pages parted by form feeds, which no page's words have; '' without words. */
export function drawingWordsHash(pages: readonly DrawingWords[]): string {
  if (pages.length === 0) return '';
  const texts: string[] = [];
  for (const { page, text } of pages) texts[page - 1] = text;
  return sha256Hex(Array.from(texts, (text: string | undefined) => text ?? '').join('\f'));
}
