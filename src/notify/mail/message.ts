import MailComposer from 'nodemailer/lib/mail-composer';
import { isPlainAddress, subjectLine } from './address.ts';
import { oneLine } from '../rules/facts.ts';

export interface Mailbox {
  readonly name: string;
  readonly address: string;
}

/** A letter with its words, before it is bytes. */
export interface Words {
  readonly to: Mailbox;
  readonly subject: string;
  readonly text: string;
  readonly html: string;
  /** Where one request ends all mail of this sort; null where the letter was asked for. */
  readonly stopUrl: string | null;
}

/** Bytes that can be handed over, and to whom. */
export interface Prepared {
  readonly letterId: string;
  readonly from: string;
  readonly to: string;
  readonly bytes: Buffer;
}

export interface Sender {
  readonly from: Mailbox;
  readonly publicUrl: string;
}

/** An address that can't be written to; no later attempt changes that. */
export class BadAddress extends Error {
  override readonly name = 'BadAddress';
}

/**
 * The bytes of a letter (RFC 5322, MIME), text and HTML side by side. The Message-ID comes from the letter's row, so
 * that a mail system which got it twice can tell.
 *
 * @throws BadAddress where the recipient's address is none.
 */
export async function prepare(letterId: string, words: Words, sender: Sender, date: Date): Promise<Prepared> {
  if (!isPlainAddress(words.to.address)) throw new BadAddress('The recipient’s address can’t be written to.');
  const stop =
    words.stopUrl === null
      ? {}
      : // RFC 2369 and RFC 8058: one request ends it, without a sign-in.
        {
          'List-Unsubscribe': `<${words.stopUrl}>`,
          'List-Unsubscribe-Post': 'List-Unsubscribe=One-Click',
        };
  const bytes = await new MailComposer({
    from: sender.from,
    to: { name: oneLine(words.to.name), address: words.to.address },
    subject: subjectLine(words.subject),
    text: words.text,
    html: words.html,
    messageId: `<${letterId}@${new URL(sender.publicUrl).hostname}>`,
    date,
    headers: {
      // RFC 3834: no answer by machines.
      'Auto-Submitted': 'auto-generated',
      ...stop,
    },
    disableFileAccess: true,
    disableUrlAccess: true,
  })
    .compile()
    .build();
  return { letterId, from: sender.from.address, to: words.to.address, bytes };
}
