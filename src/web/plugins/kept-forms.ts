import type { FastifyReply, FastifyRequest } from 'fastify';
import fp from 'fastify-plugin';
import { readFormOwner } from '../../people/kept-forms/owner.ts';
import {
  KEPT_FOR_HOURS,
  keepForm,
  keptName,
  takeKeptForm,
  type KeptForm,
  type KeptFormDeps,
} from '../../people/kept-forms/service.ts';
import type { Config } from '../config.ts';
import { typedFrom } from '../forms/read.ts';
import type { Typed } from '../forms/spec.ts';
import { isKeepable, SignInNeeded } from './access.ts';

declare module 'fastify' {
  interface FastifyContextConfig {
    /**
     * What is sent to this route after the session ended is kept, and shown again on the page at this address once
     * the same person has signed in. Routes without it keep nothing.
     */
    keepForm?: (params: Readonly<Record<string, string>>, fields: Typed) => string;
  }
  interface FastifyReply {
    /** The form that this page was led back to, once; null for everybody else and on every other page. */
    takeKept: () => Promise<KeptForm | null>;
    /** Does this page show such a form? The layout says so. */
    keptShown: boolean;
  }
}

const COOKIE = 'lintelbook-kept';
/** Several pages may have been open when the session ended. */
const MOST_IN_COOKIE = 3;

/**
 * A form that arrives after its session ended is kept for the person it was shown to, and the browser is led to
 * sign in. Nothing is done with it: that person sees it filled and sends it again. It comes before the plugin that
 * judges form tokens, since the token of a session that is gone is worth nothing; where the request came from has
 * been judged by then.
 */
export const keptForms = fp<{ deps: KeptFormDeps; config: Config; cookieSecret: string }>(
  async (app, { deps, config, cookieSecret }) => {
    const cookieOptions = {
      path: '/',
      httpOnly: true,
      sameSite: 'lax',
      secure: config.secureCookies,
      maxAge: KEPT_FOR_HOURS * 3600,
    } as const;
    const tokensOf = (request: FastifyRequest) =>
      (request.cookies[COOKIE] ?? '').split('.').filter((token) => /^[\w-]{43}$/.test(token));

    app.addHook('preValidation', async (request, reply) => {
      const { keepForm: pageOf } = request.routeOptions.config;
      if (pageOf === undefined || !isKeepable(request)) return;
      const fields = await fieldsOf(request, cookieSecret);
      const personId = readFormOwner(cookieSecret, fields._owner);
      const path = request.url.split('?')[0] ?? '';
      const token = personId === null ? null : await keepForm(deps, personId, { path, fields });
      if (token === null) throw new SignInNeeded();
      const tokens = [token, ...tokensOf(request)].slice(0, MOST_IN_COOKIE);
      reply.setCookie(COOKIE, tokens.join('.'), cookieOptions);
      const page = pageOf(request.params as Record<string, string>, fields);
      const next = `${page}${page.includes('?') ? '&' : '?'}kept=${keptName(token)}`;
      return reply.redirect(`/sign-in?next=${encodeURIComponent(next)}`, 303);
    });

    app.decorateReply('keptShown', false);
    app.decorateReply('takeKept', async function takeKept(this: FastifyReply) {
      const { request } = this;
      const { kept } = request.query as { kept?: unknown };
      if (typeof kept !== 'string' || request.person === null) return null;
      const tokens = tokensOf(request);
      const token = tokens.find((one) => keptName(one) === kept);
      if (token === undefined) return null;
      const form = await takeKeptForm(deps, request.person.personId, token);
      if (form === null) return null;
      this.keptShown = true;
      const left = tokens.filter((one) => one !== token);
      if (left.length === 0) this.clearCookie(COOKIE, { path: '/' });
      else this.setCookie(COOKIE, left.join('.'), cookieOptions);
      return form;
    });
  },
  { name: 'kept-forms', dependencies: ['session'] },
);

/** The texts of a form. Of a streamed one, files are passed over, and only once it has said whose it is. */
async function fieldsOf(request: FastifyRequest, secret: string): Promise<Record<string, string>> {
  if (!request.isMultipart()) return typedFrom(request.body);
  const fields: Record<string, string> = {};
  for await (const part of request.parts()) {
    if (part.type === 'field') {
      if (typeof part.value === 'string' && !part.valueTruncated) fields[part.fieldname] = part.value;
    } else if (readFormOwner(secret, fields._owner) === null) {
      throw new SignInNeeded();
    } else {
      part.file.resume();
    }
  }
  return typedFrom(fields);
}
