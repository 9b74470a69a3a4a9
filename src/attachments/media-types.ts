import { fileTypeFromBuffer } from 'file-type';

/** What is taken, by content. SVG is text that can carry script and is never taken in. */
export const acceptedTypes = {
  'image/jpeg': { words: 'JPEG photo', extension: 'jpg', picture: true },
  'image/png': { words: 'PNG picture', extension: 'png', picture: true },
  'image/webp': { words: 'WebP picture', extension: 'webp', picture: true },
  'image/heic': { words: 'HEIC photo', extension: 'heic', picture: true },
  'application/pdf': { words: 'PDF drawing', extension: 'pdf', picture: false },
} as const;

export type AcceptedType = keyof typeof acceptedTypes;

export function isPicture(mediaType: string): boolean {
  return Object.hasOwn(acceptedTypes, mediaType) && acceptedTypes[mediaType as AcceptedType].picture;
}

export type Sniffed =
  { readonly ok: true; readonly mediaType: AcceptedType } | { readonly ok: false; readonly sentence: string };

const TAKEN = 'Send a photo as JPEG, HEIC, PNG or WebP, or a drawing as PDF or PNG.';

/** Phones that photograph in such a format also write JPEG. */
function cantRead(format: string): string {
  return `This is ${format} photo, which can’t be read here. Send it as JPEG: set the phone’s camera to its most compatible format, or choose JPEG when you share or export the photo.`;
}

/** Tells the type by the first bytes; the name and the sender's word are not asked. */
export async function sniff(head: Buffer): Promise<Sniffed> {
  if (head.length === 0) return { ok: false, sentence: 'The file is empty.' };
  const found = await fileTypeFromBuffer(head);
  const mime = found?.mime;
  if (mime !== undefined && Object.hasOwn(acceptedTypes, mime)) {
    return { ok: true, mediaType: mime as AcceptedType };
  }
  // Told apart by the brand it names first (ISO/IEC 23008-12, annex B); whether HEVC is inside, decoding shows.
  if (mime === 'image/heif') return { ok: true, mediaType: 'image/heic' };
  if (mime === 'image/heic-sequence' || mime === 'image/heif-sequence') {
    return { ok: false, sentence: cantRead('a moving HEIC') };
  }
  if (mime === 'image/avif') return { ok: false, sentence: cantRead('an AVIF') };
  return { ok: false, sentence: `That kind of file can't be kept here. ${TAKEN}` };
}
