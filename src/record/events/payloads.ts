import type { SalvageWordKind, ServiceWord } from '../../database/generated/client.ts';
import type { Role } from '../../people/roles.ts';
import type { ItemKind } from '../kinds/definition.ts';
import type { MarkWord } from '../items/state.ts';

/**
 * Every kind of event and what it says: past tense, dotted. Where an event records a row of an immutable table it
 * repeats what that row says, so that the chain vouches for the row. A room that records something new adds its
 * events here.
 */
export interface EventPayloads {
  'project.created': {
    readonly name: string;
    readonly address: string;
    readonly jurisdiction: string;
    /** Where it was told; earlier lines of earlier logs do not say it. */
    readonly timeZone?: string;
  };
  'project.edited': { readonly changed: Readonly<Record<string, string | boolean>> };
  'opening.created': { readonly openingId: string; readonly ordinal: number; readonly name: string };
  'invitation.made': { readonly invitationId: string; readonly role: Role; readonly label: string };
  'invitation.withdrawn': { readonly invitationId: string };
  'member.joined': { readonly personId: string; readonly name: string; readonly role: Role };
  'member.removed': { readonly personId: string; readonly name: string; readonly role: Role };

  /** Only the host: an address may hold a key. */
  'webhook.made': { readonly webhookId: string; readonly host: string; readonly kinds: readonly string[] };
  'webhook.ended': { readonly webhookId: string };

  'item.created': {
    readonly itemId: string;
    readonly openingId: string | null;
    readonly kind: ItemKind;
    readonly key: string;
    readonly title: string;
  };
  'version.saved': VersionSaved;
  'versions.submitted': {
    readonly submissionId: string;
    readonly openingId: string;
    readonly number: number;
    readonly note: string;
    readonly versions: readonly { readonly versionId: string; readonly hash: string }[];
  };
  'version.marked': VersionMarked;
  'set.issued': {
    readonly setId: string;
    readonly openingId: string;
    readonly number: number;
    readonly hash: string;
    readonly entries: readonly {
      readonly itemId: string;
      readonly versionId: string;
      readonly markId: string;
    }[];
  };
  /** Lines that a set's checklist got, with 'set.issued' or later, by their hash (`checklistHash`). */
  'checklist.produced': {
    readonly setId: string;
    readonly number: number;
    /** The lines are those of the ordinals from here on: 0 for the first ones. */
    readonly after: number;
    readonly checks: number;
    readonly hash: string;
  };
  'attachment.added': {
    readonly attachmentId: string;
    readonly sha256: string;
    readonly bytes: number;
    readonly mediaType: string;
    readonly subject: string;
    readonly subjectId: string;
    /** The observation of a survey that it belongs to; '' for the whole of what it hangs on. */
    readonly part: string;
    /** Of name, caption, size, time and place (`attachmentDetailsHash`). */
    readonly detailsHash: string;
    /** Of the words on each page of a drawing (`drawingWordsHash`); '' where it has none. */
    readonly textHash: string;
  };
  'owner.said': {
    readonly ownerWordId: string;
    readonly openingId: string;
    readonly threadId: string | null;
    readonly text: string;
    readonly byRole: Role;
  };
  'family.linkMade': { readonly familyLinkId: string; readonly openingId: string; readonly label: string };
  'family.linkRevoked': { readonly familyLinkId: string };
  'attachment.shared': { readonly attachmentId: string; readonly shared: boolean };
  'note.saved': {
    readonly sheetNoteId: string;
    readonly noteId: string;
    readonly attachmentId: string;
    readonly number: number;
    /** Canonical JSON, as in the row. */
    readonly content: string;
    readonly itemId: string | null;
  };
  'visit.opened': {
    readonly visitId: string;
    readonly openingId: string;
    readonly setId: string;
    readonly number: number;
    readonly kind: string;
    /** The added visit of the plan of inspections; '' for the usual ones. */
    readonly localVisit: string;
    readonly planNumber: number;
  };
  'finding.recorded': {
    readonly findingId: string;
    readonly visitId: string;
    readonly checkId: string;
    readonly clientKey: string;
    readonly result: string;
    readonly reason: string;
    readonly location: string;
    /** A drawing of the set and the square of the grid over it; null and '' where no place was set. */
    readonly sheetId: string | null;
    readonly square: string;
    readonly at: string;
  };
  /** A finding that a phone kept: what the phone told, beside what is recorded. */
  'finding.delivered': {
    readonly phoneFindingId: string;
    /** Null where it came after its visit was closed. */
    readonly findingId: string | null;
    readonly visitId: string;
    readonly checkId: string;
    readonly result: string;
    readonly reason: string;
    readonly location: string;
    /** A square of a drawing; null and '' where none was told. */
    readonly sheetId: string | null;
    readonly square: string;
    readonly claimedAt: string;
    readonly phoneNowAt: string;
    readonly at: string;
    readonly timeWord: string;
    readonly photos: readonly {
      readonly photoId: string;
      readonly originalName: string;
      readonly bytes: number;
    }[];
  };
  'photo.delivered': { readonly photoId: string; readonly attachmentId: string };
  'late.placed': { readonly phoneFindingId: string; readonly findingId: string; readonly reason: string };
  'late.setAside': { readonly phoneFindingId: string; readonly findingId: null; readonly reason: string };
  'visit.closed': {
    readonly visitId: string;
    readonly outcome: string;
    readonly portion: string;
    readonly summary: string;
    readonly signedName: string;
  };
  'inspections.planned': {
    readonly planId: string;
    readonly number: number;
    /** Canonical JSON, as in the row. */
    readonly content: string;
    /** What changed, as a sentence. */
    readonly words: string;
  };
  'hold.accepted': {
    readonly acceptanceId: string;
    readonly openingId: string;
    readonly setId: string;
    readonly step: string;
    readonly basis: string;
    /** Canonical JSON, as in the row. */
    readonly covers: string;
  };
  /** A step that was released is held again. */
  'hold_point.closed': {
    readonly openingId: string;
    readonly setId: string;
    readonly step: string;
    readonly itemIds: readonly string[];
    /** What it waits for now, in words. */
    readonly missing: readonly string[];
  };
  'correction.answered': {
    readonly answerId: string;
    readonly findingId: string;
    readonly note: string;
    /** Ids of checks that passed before and were disturbed by it, in order. */
    readonly disturbs: readonly string[];
  };
  /** A set was issued during a visit: goes on with it, or ends against the one it was on. */
  'visit.setChosen': {
    readonly choiceId: string;
    readonly visitId: string;
    readonly setId: string;
    readonly goesOn: boolean;
  };
  'self_check.answered': {
    readonly selfCheckId: string;
    readonly checkId: string;
    readonly word: string;
    readonly note: string;
  };
  'visit.called': {
    readonly callId: string;
    readonly openingId: string;
    readonly setId: string;
    readonly visitKey: string;
    readonly note: string;
    readonly shared: string;
  };
  'service.acted': {
    readonly actId: string;
    readonly itemId: string;
    readonly versionId: string;
    readonly number: number;
    readonly word: ServiceWord;
    readonly who: string;
    readonly note: string;
  };
  'sequence.planned': {
    readonly planId: string;
    readonly openingId: string;
    readonly number: number;
    /** Canonical JSON, as in the row. */
    readonly content: string;
    readonly reason: string;
  };
  'work.logged': {
    readonly workEntryId: string;
    readonly openingId: string;
    readonly number: number;
    readonly step: string;
    readonly title: string;
    /** As 2026-05-09. */
    readonly doneOn: string;
    readonly who: string;
    readonly note: string;
    /** Canonical JSON: what stood against it, a sentence for each. */
    readonly outOfOrder: string;
  };
  'work.withdrawn': {
    readonly workWithdrawalId: string;
    readonly workEntryId: string;
    readonly openingId: string;
    readonly title: string;
    readonly reason: string;
  };
  'salvage.listed': {
    readonly salvageLineId: string;
    readonly openingId: string;
    readonly number: number;
    readonly what: string;
    readonly howMany: string;
    readonly condition: string;
    readonly keptAt: string;
  };
  'salvage.worded': {
    readonly salvageWordId: string;
    readonly salvageLineId: string;
    readonly openingId: string;
    readonly what: string;
    readonly number: number;
    readonly word: SalvageWordKind;
    readonly note: string;
  };
  'order.placed': {
    readonly orderId: string;
    readonly openingId: string;
    readonly setId: string;
    readonly number: number;
    readonly yard: string;
    /** Canonical JSON, as in the row. */
    readonly lines: string;
    readonly note: string;
  };
  'delivery.received': {
    readonly deliveryId: string;
    readonly openingId: string;
    readonly number: number;
    readonly yard: string;
    readonly note: string;
  };
  'delivery.matched': DeliveryLineChecked;
  /** What arrived is not what was called for: the engineer is told. */
  'delivery.mismatched': DeliveryLineChecked;
  'delivery.withdrawn': {
    readonly withdrawalId: string;
    readonly deliveryLineId: string;
    readonly reason: 'sent_back' | 'entered_wrongly';
    readonly note: string;
  };
  'question.asked': QuestionSaid;
  'question.answered': QuestionSaid;
  'question.closed': QuestionSaid;
}

export interface VersionSaved {
  readonly versionId: string;
  readonly itemId: string;
  readonly number: number;
  readonly hash: string;
  readonly reason: string;
  readonly authorId: string;
  readonly authorRole: Role;
  /** How it came about: typed by hand, worked out anew from the same content, or the engineer's own revision. */
  readonly origin: 'saved' | 'recalculated' | 'revised';
}

export interface VersionMarked {
  readonly markId: string;
  readonly itemId: string;
  readonly versionId: string;
  readonly versionHash: string;
  /** 1 for the first word on this version, not the number of the version. */
  readonly number: number;
  readonly word: MarkWord;
  readonly reason: string;
  readonly byId: string;
}

export interface DeliveryLineChecked {
  readonly deliveryLineId: string;
  readonly deliveryId: string;
  readonly clientKey: string;
  readonly setId: string;
  readonly lineId: string;
  /** Canonical JSON, as in the row, like `delivered` and `differences`. */
  readonly calledFor: string;
  readonly delivered: string;
  readonly count: number;
  readonly offGround: boolean;
  readonly covered: boolean;
  readonly differences: string;
  readonly note: string;
}

export interface QuestionSaid {
  readonly questionId: string;
  readonly threadId: string | null;
  readonly itemId: string;
  readonly versionId: string | null;
  readonly text: string;
  readonly closes: boolean;
  readonly byId: string;
}

export type EventType = keyof EventPayloads;
