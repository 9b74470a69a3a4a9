import { once } from 'node:events';
import { connect, type Socket } from 'node:net';
import type { AddressInfo } from 'node:net';
import type { House } from './house.ts';

/** The head of a multipart request over a bare socket, so that it can be cut anywhere. */
export interface RawUpload {
  readonly socket: Socket;
  readonly prologue: Buffer;
  readonly epilogue: Buffer;
  /** Sends the request's head for a file of this many bytes; the file is the caller's to send. */
  begin: (fileBytes: number) => void;
  /** All that the server said until it closed or fell silent. */
  answer: () => Promise<string>;
}

export async function listen(house: House): Promise<number> {
  await house.test.app.listen({ host: '127.0.0.1', port: 0 });
  return (house.test.app.server.address() as AddressInfo).port;
}

export async function formToken(house: House): Promise<string> {
  const page = await house.contractor.get(`/projects/${house.projectId}/openings/${house.openingId}`);
  const token = /name="_csrf" value="([^"]+)"/.exec(page.body)?.[1];
  if (token === undefined) throw new Error('the page has no token');
  return token;
}

export async function rawUpload(house: House, port: number, token: string): Promise<RawUpload> {
  const fields = { _csrf: token, subject: 'opening', subjectId: house.openingId, caption: '', back: '' };
  const prologue = Buffer.from(
    Object.entries(fields)
      .map(([name, value]) => `--cut\r\nContent-Disposition: form-data; name="${name}"\r\n\r\n${value}\r\n`)
      .join('') + '--cut\r\nContent-Disposition: form-data; name="file"; filename="a.pdf"\r\n\r\n',
  );
  const epilogue = Buffer.from('\r\n--cut--\r\n');
  const socket = connect(port, '127.0.0.1');
  let said = '';
  socket.on('data', (chunk: Buffer) => (said += chunk.toString('latin1')));
  socket.on('error', () => undefined);
  await once(socket, 'connect');
  return {
    socket,
    prologue,
    epilogue,
    begin(fileBytes) {
      socket.write(
        `POST /projects/${house.projectId}/attachments HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n` +
          `Sec-Fetch-Site: same-origin\r\nCookie: ${house.contractor.cookies()}\r\n` +
          'Content-Type: multipart/form-data; boundary=cut\r\n' +
          `Content-Length: ${prologue.length + fileBytes + epilogue.length}\r\n\r\n`,
      );
      socket.write(prologue);
    },
    async answer() {
      if (!socket.closed) await once(socket, 'close');
      return said;
    },
  };
}
