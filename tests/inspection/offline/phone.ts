import { randomUUID } from 'node:crypto';
import type { LightMyRequestResponse } from 'fastify';
import type { Client, TestApp } from '../../support/app.ts';

export interface SentFinding {
  id: string;
  checkId: string;
  result: string;
  reason: string;
  location: string;
  at: string;
  photos: { id: string; name: string; bytes: number }[];
}

/** A phone that somebody is signed in on: it asks first, as the page's script does, then sends with the token it got. */
export function phone(test: TestApp, who: Pick<Client, 'cookies'>, inProject: string) {
  let token = '';
  const headers = () => ({ cookie: who.cookies(), 'sec-fetch-site': 'same-origin', 'x-csrf-token': token });
  return {
    async ask(visit: string): Promise<LightMyRequestResponse> {
      const response = await test.app.inject({ method: 'GET', url: `${visit}/kept`, headers: headers() });
      if (response.statusCode === 200) token = response.json<{ csrfToken: string }>().csrfToken;
      return response;
    },
    send(visit: string, findings: readonly object[], over: object = {}, more: Record<string, string> = {}) {
      return test.app.inject({
        method: 'POST',
        url: `${visit}/phone-findings`,
        headers: { ...headers(), 'content-type': 'application/json', ...more },
        payload: JSON.stringify({ after: null, phoneNowAt: new Date().toISOString(), findings, ...over }),
      });
    },
    state: (photoId: string) =>
      test.app.inject({ method: 'GET', url: `${inProject}/phone-photos/${photoId}`, headers: headers() }),
    piece(photoId: string, offset: number, payload: Buffer) {
      return test.app.inject({
        method: 'POST',
        url: `${inProject}/phone-photos/${photoId}/pieces`,
        headers: {
          ...headers(),
          'content-type': 'application/octet-stream',
          'upload-offset': String(offset),
        },
        payload,
      });
    },
  };
}

export function found(checkId: string, over: Partial<SentFinding> = {}): SentFinding {
  return {
    id: randomUUID(),
    checkId,
    result: 'pass',
    reason: '',
    location: '',
    at: new Date().toISOString(),
    photos: [],
    ...over,
  };
}

export interface Answer {
  id: string;
  is: 'kept' | 'late' | 'refused';
  findingId: string | null;
  at: string;
  timeWord: string;
  receivedAt: string;
  sentence?: string;
}
export const answers = (response: LightMyRequestResponse) => response.json<{ findings: Answer[] }>().findings;
