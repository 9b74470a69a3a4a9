import { createHash, randomUUID } from 'node:crypto';
import { once } from 'node:events';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { buffer } from 'node:stream/consumers';

interface Stored {
  readonly bytes: Buffer;
  modified: Date;
}

/** What the next requests meet instead of an answer. */
export interface Trouble {
  /** Which requests it is for; all where it is not given. */
  readonly on?: (method: string, url: string) => boolean;
  readonly times: number;
  readonly status?: number;
  readonly code?: string;
  /** Never answers. */
  readonly silent?: boolean;
  /** Begins to send the object and ends the connection half-way. */
  readonly breaksOff?: boolean;
}

export interface ObjectStoreServer {
  readonly endpoint: string;
  readonly bucket: string;
  readonly objects: Map<string, Stored>;
  readonly parts: Map<string, { key: string; begun: Date; pieces: Map<number, Buffer> }>;
  readonly requests: string[];
  /** Requests that carried no signature of the key that the tests use. */
  readonly unsigned: string[];
  meet: (trouble: Trouble) => void;
  close: () => Promise<void>;
}

/**
 * As much of the S3 protocol as the store uses, in memory: enough to try it against slow and failing answers. It
 * looks for a signature (AWS Signature Version 4) by key, but does not recompute it.
 */
export async function startObjectStore(): Promise<ObjectStoreServer> {
  const bucket = 'record';
  const objects = new Map<string, Stored>();
  const parts: ObjectStoreServer['parts'] = new Map();
  const requests: string[] = [];
  const unsigned: string[] = [];
  const troubles: { trouble: Trouble; left: number }[] = [];

  function xml(response: ServerResponse, body: string, status = 200) {
    response.writeHead(status, { 'content-type': 'application/xml' });
    response.end(`<?xml version="1.0" encoding="UTF-8"?>${body}`);
  }
  function fail(response: ServerResponse, status: number, code: string) {
    xml(response, `<Error><Code>${code}</Code><Message>${code}</Message></Error>`, status);
  }
  const etag = (bytes: Buffer) => `"${createHash('md5').update(bytes).digest('hex')}"`;

  async function answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const { method = '', url = '' } = request;
    const address = new URL(url, 'http://store');
    const key = decodeURIComponent(address.pathname.slice(bucket.length + 2));
    const query = address.searchParams;
    requests.push(`${method} ${url}`);
    if (!/^AWS4-HMAC-SHA256 Credential=test-key\/.*Signature=/.test(request.headers.authorization ?? '')) {
      unsigned.push(`${method} ${url}`);
    }
    const met = troubles.find(({ trouble, left }) => left > 0 && (trouble.on?.(method, url) ?? true));
    if (met) {
      met.left -= 1;
      if (met.trouble.silent) return;
      request.resume();
      const found = objects.get(key);
      if (met.trouble.breaksOff && found !== undefined) {
        const { bytes } = found;
        response.writeHead(200, { 'content-length': bytes.length, etag: etag(bytes) });
        response.write(bytes.subarray(0, bytes.length >> 1), () => response.destroy());
        return;
      }
      fail(response, met.trouble.status ?? 503, met.trouble.code ?? 'SlowDown');
      return;
    }
    const uploadId = query.get('uploadId');
    switch (method) {
      case 'PUT': {
        const body = await buffer(request);
        const source = request.headers['x-amz-copy-source'];
        if (typeof source === 'string') {
          const found = objects.get(decodeURIComponent(source).replace(/^\/?[^/]+\//, ''));
          if (!found) {
            fail(response, 404, 'NoSuchKey');
            return;
          }
          objects.set(key, { bytes: found.bytes, modified: new Date() });
          xml(response, `<CopyObjectResult><ETag>${etag(found.bytes)}</ETag></CopyObjectResult>`);
          return;
        }
        if (uploadId !== null) {
          const upload = parts.get(uploadId);
          if (!upload) {
            fail(response, 404, 'NoSuchUpload');
            return;
          }
          upload.pieces.set(Number(query.get('partNumber')), body);
        } else {
          objects.set(key, { bytes: body, modified: new Date() });
        }
        response.writeHead(200, { etag: etag(body) }).end();
        return;
      }
      case 'POST': {
        await buffer(request);
        if (query.has('uploads')) {
          const id = randomUUID();
          parts.set(id, { key, begun: new Date(), pieces: new Map() });
          xml(
            response,
            `<InitiateMultipartUploadResult><Bucket>${bucket}</Bucket><Key>${key}</Key><UploadId>${id}</UploadId></InitiateMultipartUploadResult>`,
          );
          return;
        }
        const upload = parts.get(uploadId ?? '');
        if (!upload) {
          fail(response, 404, 'NoSuchUpload');
          return;
        }
        const inOrder = [...upload.pieces].sort(([one], [other]) => one - other).map(([, piece]) => piece);
        objects.set(key, { bytes: Buffer.concat(inOrder), modified: new Date() });
        parts.delete(uploadId ?? '');
        xml(
          response,
          `<CompleteMultipartUploadResult><Key>${key}</Key><ETag>"whole"</ETag></CompleteMultipartUploadResult>`,
        );
        return;
      }
      case 'DELETE':
        if (uploadId !== null) parts.delete(uploadId);
        else objects.delete(key);
        response.writeHead(204).end();
        return;
      case 'HEAD':
      case 'GET': {
        read(response, { method, key, query, range: request.headers.range });
        return;
      }
      default: {
        fail(response, 405, 'MethodNotAllowed');
        return;
      }
    }
  }

  function read(
    response: ServerResponse,
    asked: { method: string; key: string; query: URLSearchParams; range: string | undefined },
  ): void {
    const { method, key, query, range } = asked;
    const prefix = query.get('prefix') ?? '';
    if (key === '' && query.has('uploads')) {
      const list = [...parts].filter(([, upload]) => upload.key.startsWith(prefix));
      const lines = list.map(
        ([id, upload]) =>
          `<Upload><Key>${upload.key}</Key><UploadId>${id}</UploadId><Initiated>${upload.begun.toISOString()}</Initiated></Upload>`,
      );
      xml(response, `<ListMultipartUploadsResult>${lines.join('')}</ListMultipartUploadsResult>`);
      return;
    }
    if (key === '') {
      // One to a page, so that paging is used.
      const all = [...objects]
        .filter(([name]) => name.startsWith(prefix))
        .sort(([a], [b]) => (a < b ? -1 : 1));
      const from = Number(query.get('continuation-token') ?? '0');
      const lines = all
        .slice(from, from + 1)
        .map(
          ([name, one]) =>
            `<Contents><Key>${name}</Key><LastModified>${one.modified.toISOString()}</LastModified><Size>${one.bytes.length}</Size></Contents>`,
        );
      const more = from + 1 < all.length;
      const next = more ? `<NextContinuationToken>${from + 1}</NextContinuationToken>` : '';
      xml(
        response,
        `<ListBucketResult><IsTruncated>${more}</IsTruncated>${next}${lines.join('')}</ListBucketResult>`,
      );
      return;
    }
    const found = objects.get(key);
    if (!found) {
      fail(response, 404, 'NoSuchKey');
      return;
    }
    const part = /^bytes=(\d+)-(\d+)$/.exec(range ?? '');
    const bytes = part ? found.bytes.subarray(Number(part[1]), Number(part[2]) + 1) : found.bytes;
    response.writeHead(part ? 206 : 200, {
      'content-length': bytes.length,
      'last-modified': found.modified.toUTCString(),
      etag: etag(found.bytes),
    });
    response.end(method === 'HEAD' ? undefined : bytes);
  }

  const server = createServer((request, response) => {
    answer(request, response).catch(() => response.destroy());
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  return {
    endpoint: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    bucket,
    objects,
    parts,
    requests,
    unsigned,
    meet: (trouble) => troubles.push({ trouble, left: trouble.times }),
    async close() {
      server.closeAllConnections();
      server.close();
      await once(server, 'close');
    },
  };
}
