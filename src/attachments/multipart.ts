import multipart from '@fastify/multipart';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import { Problem, Refused } from '../problems.ts';
import { shownName } from './plain-words.ts';
import { receiveFile, type ReceivedFile } from './receive.ts';
import type { BlobStore } from './storage/blob-store.ts';

export interface UploadedFile extends ReceivedFile {
  /** As the sender called it, cut to 200 characters; shown, never a path. */
  readonly originalName: string;
}

export interface Upload {
  readonly fields: Readonly<Record<string, string>>;
  readonly files: readonly UploadedFile[];
}

const FIELD_LIMIT_BYTES = 64 * 1024;
const FILES_AT_ONCE = 20;

export const multipartForms = fp<{ uploadLimitBytes: number }>(
  async (app, { uploadLimitBytes }) => {
    await app.register(multipart, {
      limits: {
        fileSize: uploadLimitBytes,
        files: FILES_AT_ONCE,
        fields: 60,
        parts: FILES_AT_ONCE + 60,
        fieldSize: FIELD_LIMIT_BYTES,
        fieldNameSize: 100,
      },
    });
  },
  { name: 'multipart' },
);

/**
 * Reads a streamed form: the token has to be its first field and is checked before any file is touched.
 * On any failure what was received is forgotten. Empty file inputs (a form sent without a file) are skipped.
 */
export async function readUpload(
  app: FastifyInstance,
  request: FastifyRequest,
  reply: FastifyReply,
  store: BlobStore,
  limitBytes: number,
): Promise<Upload> {
  const fields: Record<string, string> = {};
  const files: UploadedFile[] = [];
  let checked = false;
  try {
    for await (const part of request.parts()) {
      if (part.type === 'field') {
        if (part.valueTruncated)
          throw new Refused('One of the texts is too long. Shorten it, and send it again.');
        if (typeof part.value === 'string') fields[part.fieldname] = part.value;
        continue;
      }
      if (!checked) {
        await checkToken(app, request, reply, fields._csrf);
        checked = true;
      }
      if (part.filename === '') {
        part.file.resume();
        continue;
      }
      const file = part.file;
      const received = await receiveFile(store, file, { limitBytes, wasCutShort: () => file.truncated });
      files.push({ ...received, originalName: shownName(part.filename) });
    }
    if (!checked) await checkToken(app, request, reply, fields._csrf);
    return { fields, files };
  } catch (error) {
    await Promise.all(files.map((file) => file.received.discard()));
    throw wasCutOff(error) ? new Refused(CUT_OFF) : error;
  } finally {
    // As in any other form: whoever answers a refusal reads the texts there.
    request.body = fields;
  }
}

const CUT_OFF = 'The upload was cut off on its way. Nothing was kept; send it again.';

/** What the parser and Node say of a form that ends before its last boundary; neither has a class for it. */
function wasCutOff(error: unknown): boolean {
  if (!(error instanceof Error) || error instanceof Problem) return false;
  return /unexpected end of|terminated early|malformed part header|premature close/i.test(error.message);
}

/** Throws where the token is missing or another session’s. */
export async function checkToken(
  app: FastifyInstance,
  request: FastifyRequest,
  reply: FastifyReply,
  token: string | undefined,
): Promise<void> {
  request.body = { _csrf: token };
  await new Promise<void>((resolve, reject) => {
    // The plugin answers a bad token by sending it; inside a stream it has to be thrown instead.
    const throwing = Object.create(reply, { send: { value: reject } }) as FastifyReply;
    app.csrfProtection(request, throwing, () => {
      resolve();
    });
  });
}
