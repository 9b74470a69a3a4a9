import cookie from '@fastify/cookie';
import csrf from '@fastify/csrf-protection';
import helmet from '@fastify/helmet';
import rateLimit from '@fastify/rate-limit';
import type { FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import { NotAllowed } from '../../problems.ts';
import { cookieName, type Config } from '../config.ts';
import { isForPrograms } from './session.ts';
import { SteadyCounts } from './steady-counts.ts';

declare module 'fastify' {
  interface FastifyContextConfig {
    /** Streamed uploads check the token themselves, before they touch the first file. */
    csrfInStream?: boolean;
    /** The address itself holds an unguessable proof and no cookie is looked at: there is nothing to forge. */
    provenByAddress?: boolean;
  }
}

const unsafe = new Set(['POST', 'PUT', 'PATCH', 'DELETE']);

/** Headers, rate limits and the two locks against forged requests: where it came from, and a token. */
export const security = fp<{ config: Config; cookieSecret: string }>(
  async (app, { config, cookieSecret }) => {
    await app.register(helmet, {
      contentSecurityPolicy: {
        useDefaults: false,
        directives: {
          defaultSrc: ["'none'"],
          scriptSrc: ["'self'"],
          styleSrc: ["'self'"],
          imgSrc: ["'self'"],
          fontSrc: ["'self'"],
          connectSrc: ["'self'"],
          manifestSrc: ["'self'"],
          workerSrc: ["'self'"],
          formAction: ["'self'"],
          frameAncestors: ["'none'"],
          baseUri: ["'none'"],
          objectSrc: ["'none'"],
          ...(config.secureCookies ? { upgradeInsecureRequests: [] } : {}),
        },
      },
      referrerPolicy: { policy: 'same-origin' },
      strictTransportSecurity: config.secureCookies ? { maxAge: 31_536_000, includeSubDomains: true } : false,
    });

    await app.register(rateLimit, {
      max: config.rateLimitPerMinute,
      timeWindow: '1 minute',
      store: SteadyCounts,
      allowList: (request) => request.routeOptions.config.access === 'asset.read',
      onExceeded: (request) => {
        request.log.warn({ ip: request.ip, route: request.routeOptions.url }, 'too many requests');
      },
    });

    await app.register(cookie, { secret: cookieSecret });
    await app.register(csrf, {
      cookieKey: formCookie(config),
      cookieOpts: {
        signed: true,
        httpOnly: true,
        sameSite: 'lax',
        secure: config.secureCookies,
        path: '/',
      },
      csrfOpts: { hmacKey: cookieSecret },
      getUserInfo: formOwner,
      getToken: (request) => {
        const body = request.body as Record<string, unknown> | null | undefined;
        const sent = body?._csrf ?? request.headers['x-csrf-token'];
        return typeof sent === 'string' ? sent : undefined;
      },
    });

    app.addHook('onRequest', async (request) => {
      if (request.routeOptions.config.provenByAddress || isForPrograms(request)) return;
      if (unsafe.has(request.method) && !comesFromUs(request, config.publicUrl)) {
        const { origin } = request.headers;
        request.log.warn(
          { ip: request.ip, route: request.routeOptions.url, origin },
          'sent from another site',
        );
        throw new NotAllowed('This request came from another site and was refused.');
      }
    });

    app.addHook('preValidation', (request, reply, done) => {
      const { csrfInStream, provenByAddress } = request.routeOptions.config;
      if (!unsafe.has(request.method) || csrfInStream || provenByAddress || isForPrograms(request)) {
        done();
        return;
      }
      app.csrfProtection(request, reply, done);
    });
  },
  { name: 'security', dependencies: ['session'] },
);

/** Holds the secret of which the tokens of a browser's forms are made. */
export function formCookie(config: Config): string {
  return cookieName('lintelbook-form', config);
}

/** A form's token is good for the session it was shown in and for no other. */
export function formOwner(request: FastifyRequest): string {
  return request.person?.sessionId ?? 'nobody';
}

/** Browsers tell where a form was sent from; a foreign origin is refused before any token is looked at. */
function comesFromUs(request: FastifyRequest, publicUrl: string): boolean {
  const site = request.headers['sec-fetch-site'];
  if (site !== undefined) return site === 'same-origin' || site === 'none';
  const { origin } = request.headers;
  if (origin === undefined) return true;
  if (origin === new URL(publicUrl).origin) return true;
  return origin === `${request.protocol}://${request.host}`;
}
