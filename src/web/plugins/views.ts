import { createHash } from 'node:crypto';
import path from 'node:path';
import view from '@fastify/view';
import type { FastifyReply } from 'fastify';
import fp from 'fastify-plugin';
import nunjucks from 'nunjucks';
import { cookieName, type Config } from '../config.ts';
import { addFilters } from '../filters.ts';
import { formOwnerToken } from '../../people/kept-forms/owner.ts';
import { roleMay, type Action } from '../../people/permissions.ts';
import type { FormState } from '../forms/judge.ts';
import type { Typed } from '../forms/spec.ts';
import type { Member } from './access.ts';
import { keepMacros } from './kept-macros.ts';
import { KeptPages } from './kept-pages.ts';
import { formCookie, formOwner } from './security.ts';

declare module 'fastify' {
  interface FastifyReply {
    /** Renders a template with what every page knows: who, where, the token for its forms. */
    page: (template: string, data?: object) => Promise<string>;
    /**
     * The same for a page that stays as it is, in this session, for as long as the project's log and its key do: read
     * and rendered once in a minute at most, since pages say when they were made; its forms have one token as long. A
     * page with something of the moment on it is rendered by itself. The key names what is shown and has no line in the
     * project's log.
     */
    keptPage: (key: string, read: () => Promise<ReadPage>) => Promise<string | Buffer>;
    /** A sentence for the next page this person sees, and where it leads on to. */
    flash: (sentence: string, next?: { readonly words: string; readonly href: string }) => void;
  }
}

export interface ReadPage {
  readonly template: string;
  readonly data: object;
}

export const templateFolder = path.resolve(import.meta.dirname, '../../../templates');

/** Templates are ours alone; nothing from a user names or contains one. Autoescape stays on. */
export const views = fp<{ config: Config; cookieSecret: string }>(
  async (app, { config, cookieSecret }) => {
    keepMacros();
    await app.register(view, {
      engine: { nunjucks },
      root: templateFolder,
      options: {
        autoescape: true,
        noCache: !config.production,
        throwOnUndefined: false,
        onConfigure: addFilters,
      },
    });

    const FLASH = cookieName('lintelbook-said', config);
    app.decorateReply('flash', function flash(sentence, next) {
      this.setCookie(FLASH, JSON.stringify({ sentence, next }), {
        path: '/',
        httpOnly: true,
        sameSite: 'lax',
        secure: config.secureCookies,
        signed: true,
        maxAge: 60,
      });
    });

    const pages = new KeptPages();
    const FORM = formCookie(config);

    /** What every page knows, but for what is of the moment: a token, a sentence said, a form kept. */
    function rendered(reply: FastifyReply, template: string, context: object): Promise<string> {
      const { request } = reply;
      asPage(reply);
      return reply.viewAsync(template, {
        person: request.person === null ? null : { id: request.person.personId, name: request.person.name },
        project: request.member?.project ?? null,
        projectNav: request.member === null ? [] : projectNav(request.member),
        role: request.member?.actor.role ?? null,
        liveAfter: request.member?.seen ?? null,
        formOwner: request.person === null ? '' : formOwnerToken(cookieSecret, request.person.personId),
        path: request.url.split('?')[0],
        demo: config.demo !== null,
        nowIso: new Date().toISOString(),
        ...context,
      });
    }

    app.decorateReply('page', async function page(template, data = {}) {
      const { request } = this;
      const said = request.cookies[FLASH];
      const flash = said === undefined ? null : readFlash(this.unsignCookie(said).value);
      if (said !== undefined) this.clearCookie(FLASH, { path: '/', secure: config.secureCookies });
      const kept = await this.takeKept();
      return rendered(this, template, {
        csrfToken: this.generateCsrf({ userInfo: formOwner(request) }),
        keptShown: this.keptShown !== null,
        keptWords: this.keptShown === null ? [] : wordsOfForm(this.keptShown.fields),
        flash,
        ...data,
        ...(kept === null ? {} : { form: filledAgain(data, kept.fields) }),
      });
    });

    app.decorateReply('keptPage', async function keptPage(key, read) {
      const { request } = this;
      const { kept } = request.query as { readonly kept?: unknown };
      const { member, person } = request;
      const secret = request.cookies[FORM];
      const isOfTheMoment =
        request.cookies[FLASH] !== undefined || kept !== undefined || member?.seen === null;
      if (isOfTheMoment || secret === undefined) {
        const { template, data } = await read();
        return this.page(template, data);
      }
      // A hash: the ids of sessions stay in no memory but a request's.
      const whole = createHash('sha256')
        .update(JSON.stringify([request.url, formOwner(request), secret, person?.name, member, key]))
        .digest('base64');
      const found = pages.find(whole);
      if (found !== undefined) {
        asPage(this);
        return found;
      }
      const { template, data } = await read();
      // A secret that is not ours is replaced with this answer.
      if (!this.unsignCookie(secret).valid) return this.page(template, data);
      const csrfToken = this.generateCsrf({ userInfo: formOwner(request) });
      const moment = { csrfToken, keptShown: false, keptWords: [], flash: null };
      return pages.keep(whole, await rendered(this, template, { ...moment, ...data }));
    });
  },
  { name: 'views', dependencies: ['session', 'security', 'kept-forms'] },
);

/** As `flash` wrote it; null for a cookie that isn't ours. */
function readFlash(text: string | null): unknown {
  if (text === null) return null;
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return null;
  }
}

function asPage(reply: FastifyReply): void {
  reply.type('text/html; charset=utf-8').header('cache-control', 'no-store');
}

/** The page's form with what was typed in it before the session ended. */
function filledAgain(data: { form?: Partial<FormState> | null }, typed: Typed): FormState {
  return { values: { ...data.form?.values, ...typed }, errors: data.form?.errors ?? {} };
}

/** Whatever was written in words: shown beside the form, since the form may have gone meanwhile. */
function wordsOfForm(typed: Typed): string[] {
  return Object.values(typed).filter((text) => {
    const words = text.split(/\s+/u).map((word) => /\p{L}/u.test(word));
    return words.some((hasLetter, place) => hasLetter && words[place + 1] === true);
  });
}

/** What this member may open from anywhere in the project. */
function projectNav({ project }: Member): { href: string; text: string }[] {
  const base = `/projects/${project.id}`;
  const links: [Action, string, string][] = [
    ['project.read', base, 'Overview'],
    ['item.search', `${base}/search`, 'Search'],
    ['people.read', `${base}/people`, 'People'],
    ['log.read', `${base}/log`, 'Log'],
  ];
  return links.filter(([action]) => roleMay(project.role, action)).map(([, href, text]) => ({ href, text }));
}
