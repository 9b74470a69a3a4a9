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
import { cookieName, type Config } from '../config.ts';
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
    /** The boxes of such a form as that page names them, where the form itself names them otherwise. */
    keepBoxes?: (params: Readonly<Record<string, string>>, fields: Typed) => Typed;
  }
  interface FastifyReply {
    /**
     * The form that this page was led back to, once; null for everybody else and on every other page. A page that does
     * not ask gets its boxes in `form`.
     */
    takeKept: () => Promise<KeptForm | null>;
    /** The form that this page shows again; null for none. The layout says so. */
    keptShown: KeptForm | null;
    /**
     * Keeps a form whose page could not show the refusal itself; answers the address at which it comes back filled, null
     * where there is nothing to keep.
     */
    keepRefused: () => Promise<string | null>;
  }
}

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
    const COOKIE = cookieName('lintelbook-kept', config);
    const cookieOptions = {
      path: '/',
      httpOnly: true,
      sameSite: 'lax',
      secure: config.secureCookies,
      maxAge: KEPT_FOR_HOURS * 3600,
    } as const;
    const tokensOf = (request: FastifyRequest) =>
      (request.cookies[COOKIE] ?? '').split('.').filter((token) => /^[\w-]{43}$/.test(token));

    /** Keeps what was sent; answers where it comes back filled. */
    async function keep(request: FastifyRequest, reply: FastifyReply, personId: string, fields: Typed) {
      const { keepForm: pageOf, keepBoxes } = request.routeOptions.config;
      if (pageOf === undefined) return null;
      const path = request.url.split('?')[0] ?? '';
      const params = request.params as Record<string, string>;
      const boxes = keepBoxes?.(params, fields) ?? fields;
      const token = await keepForm(deps, personId, { path, fields: boxes });
      if (token === null) return null;
      const tokens = [token, ...tokensOf(request)].slice(0, MOST_IN_COOKIE);
      reply.setCookie(COOKIE, tokens.join('.'), cookieOptions);
      const [page = '', place] = pageOf(params, fields).split('#');
      const named = `${page}${page.includes('?') ? '&' : '?'}kept=${keptName(token)}`;
      return place === undefined ? named : `${named}#${place}`;
    }

    app.addHook('preValidation', async (request, reply) => {
      if (!isKeepable(request)) return;
      const fields = await fieldsOf(request, cookieSecret);
      const personId = readFormOwner(cookieSecret, fields._owner);
      const next = personId === null ? null : await keep(request, reply, personId, fields);
      if (next === null) throw new SignInNeeded();
      return reply.redirect(`/sign-in?next=${encodeURIComponent(next)}`, 303);
    });

    app.decorateReply('keepRefused', async function keepRefused(this: FastifyReply) {
      const { request } = this;
      const fields = typedFrom(request.body);
      // The form says whose it is: the token of it may be the very thing that was refused.
      const personId = readFormOwner(cookieSecret, fields._owner);
      if (personId === null || personId !== request.person?.personId) return null;
      return keep(request, this, personId, fields);
    });

    app.decorateReply('keptShown', null);
    app.decorateReply('takeKept', async function takeKept(this: FastifyReply) {
      const { request } = this;
      const { kept } = request.query as { kept?: unknown };
      if (typeof kept !== 'string' || request.person === null) return null;
      const tokens = tokensOf(request);
      const token = tokens.find((one) => keptName(one) === kept);
      if (token === undefined) return null;
      const form = await takeKeptForm(deps, request.person.personId, token);
      if (form === null) return null;
      this.keptShown = form;
      const left = tokens.filter((one) => one !== token);
      if (left.length === 0) this.clearCookie(COOKIE, { path: '/', secure: config.secureCookies });
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
