import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { checkToken } from '../../attachments/multipart.ts';
import { Refused } from '../../problems.ts';

/** Of a schedule of 500 rows, with room to spare; what is longer is no schedule. */
const LONGEST_BYTES = 512 * 1024;

/**
 * The text of one small file from a form, or what was pasted into its box where no file was chosen. It stays in memory
 * and is never kept.
 *
 * @throws Refused where it is too long, or not text in UTF-8
 */
export async function readTextUpload(
  app: FastifyInstance,
  request: FastifyRequest,
  reply: FastifyReply,
): Promise<{ readonly text: string; readonly fields: Readonly<Record<string, string>> }> {
  const fields: Record<string, string> = {};
  let text: string | null = null;
  for await (const part of request.parts({
    limits: { fileSize: LONGEST_BYTES, files: 1, fieldSize: LONGEST_BYTES },
  })) {
    if (part.type === 'field') {
      if (part.valueTruncated) throw tooLong();
      if (typeof part.value === 'string') fields[part.fieldname] = part.value;
    } else if (part.filename === '') {
      part.file.resume();
    } else {
      const bytes = await part.toBuffer().catch((error: unknown) => {
        throw (error as { code?: string }).code === 'FST_REQ_FILE_TOO_LARGE' ? tooLong() : error;
      });
      text = decoded(bytes);
    }
  }
  await checkToken(app, request, reply, fields._csrf);
  return { text: text ?? fields.text ?? '', fields };
}

function tooLong(): Refused {
  return new Refused(
    'That is too long to be a fastening schedule. Send the CSV that was taken out here, with your changes.',
  );
}

function decoded(bytes: Buffer): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new Refused('The file is not text in UTF-8. Save it as “CSV UTF-8” and send it again.');
  }
}
