import type { FastifyReply, FastifyRequest } from 'fastify';
import { cookieName, type Config } from '../../web/config.ts';
import { CODE_WITHIN_MINUTES } from './begun-sign-in.ts';

const nameOf = (config: Config) => cookieName('lintelbook-code', config);
const options = ({ secureCookies }: Config) =>
  ({ path: '/', httpOnly: true, sameSite: 'lax', secure: secureCookies }) as const;

/** Ties the second page of a sign-in to the browser that the password was typed in. */
export function setCodeCookie(reply: FastifyReply, config: Config, token: string): void {
  reply.setCookie(nameOf(config), token, { ...options(config), maxAge: CODE_WITHIN_MINUTES * 60 });
}

export function codeCookieOf(request: FastifyRequest, config: Config): string | undefined {
  return request.cookies[nameOf(config)];
}

export function clearCodeCookie(reply: FastifyReply, config: Config): void {
  reply.clearCookie(nameOf(config), options(config));
}
