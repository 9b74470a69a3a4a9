import { fileTypeFromBuffer } from 'file-type';

/** What is taken, by content. SVG is text that can carry script and is never taken in. */
export const acceptedTypes = {
  'image/jpeg': { words: 'JPEG photo', extension: 'jpg', picture: true },
  'image/png': { words: 'PNG picture', extension: 'png', picture: true },
  'image/webp': { words: 'WebP picture', extension: 'webp', picture: true },
  'application/pdf': { words: 'PDF drawing', extension: 'pdf', picture: false },
} as const;

export type AcceptedType = keyof typeof acceptedTypes;

export function isPicture(mediaType: string): boolean {
  return Object.hasOwn(acceptedTypes, mediaType) && acceptedTypes[mediaType as AcceptedType].picture;
}

export type Sniffed =
  { readonly ok: true; readonly mediaType: AcceptedType } | { readonly ok: false; readonly sentence: string };

const TAKEN = 'Send a photo as JPEG, PNG or WebP, or a drawing as PDF or PNG.';

/**
 * The picture library's builds decode no HEVC, which HEIC is made of; a photo that could be neither checked nor shown is
 * not kept. Phones that photograph in it also write JPEG.
 */
function cantRead(format: string): string {
  return `This is a ${format} photo, which can’t be read here. Send it as JPEG: set the phone’s camera to its most compatible format, or choose JPEG when you share or export the photo.`;
}

/** Tells the type by the first bytes; the name and the sender's word are not asked. */
export async function sniff(head: Buffer): Promise<Sniffed> {
  if (head.length === 0) return { ok: false, sentence: 'The file is empty.' };
  const found = await fileTypeFromBuffer(head);
  const mime = found?.mime;
  if (mime !== undefined && Object.hasOwn(acceptedTypes, mime)) {
    return { ok: true, mediaType: mime as AcceptedType };
  }
  if (mime !== undefined && /^image\/(heic|heif)(-sequence)?$/.test(mime)) {
    return { ok: false, sentence: cantRead('HEIC') };
  }
  if (mime === 'image/avif') return { ok: false, sentence: cantRead('AVIF') };
  return { ok: false, sentence: `That kind of file can't be kept here. ${TAKEN}` };
}
