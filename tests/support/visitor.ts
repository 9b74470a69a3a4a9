/** Somebody with a cookie jar who reads pages and sends their forms, to whichever process is named. */
export class Visitor {
  readonly #jar = new Map<string, string>();

  /** @param cookie of a session that was started some other way, as `name=value` */
  constructor(cookie?: string) {
    if (cookie !== undefined) this.#jar.set(...pairOf(cookie));
  }

  cookies(): string {
    return [...this.#jar].map(([name, value]) => `${name}=${value}`).join('; ');
  }

  async #send(url: string, init: RequestInit): Promise<Response> {
    const headers = { ...(init.headers as Record<string, string>), cookie: this.cookies() };
    const response = await fetch(url, { ...init, headers, redirect: 'manual' });
    for (const cookie of response.headers.getSetCookie()) {
      const [name, value] = pairOf(cookie.split(';')[0] ?? '');
      if (value === '' || /max-age=0/i.test(cookie)) this.#jar.delete(name);
      else this.#jar.set(name, value);
    }
    return response;
  }

  get(url: string): Promise<Response> {
    return this.#send(url, { headers: { accept: 'text/html' } });
  }

  async page(url: string): Promise<string> {
    const response = await this.get(url);
    if (response.status !== 200) throw new Error(`GET ${url} answered ${response.status}`);
    return response.text();
  }

  /** Sends a form of a page as a browser does, with what is typed on top of what the page filled in. */
  submit(
    base: string,
    html: string,
    action: RegExp,
    typed: Readonly<Record<string, string>> = {},
    /** Where a script of the page sends the same form. */
    elsewhere?: string,
  ): Promise<Response> {
    const form = formOf(html, action);
    return this.#send(base + (elsewhere ?? form.action), {
      method: 'POST',
      headers: { 'content-type': 'application/x-www-form-urlencoded', 'sec-fetch-site': 'same-origin' },
      body: new URLSearchParams({ ...form.fields, ...typed }).toString(),
    });
  }

  /** The same for a form with files, none chosen where it is null; its own fields first, as the page has them. */
  upload(
    base: string,
    html: string,
    action: RegExp,
    typed: Readonly<Record<string, string>>,
    file: {
      readonly field: string;
      readonly name: string;
      readonly mimeType: string;
      readonly buffer: Buffer;
    } | null,
  ): Promise<Response> {
    const form = formOf(html, action);
    const body = new FormData();
    for (const [name, value] of Object.entries({ ...form.fields, ...typed })) body.append(name, value);
    if (file !== null) {
      body.append(file.field, new Blob([new Uint8Array(file.buffer)], { type: file.mimeType }), file.name);
    }
    return this.#send(base + form.action, {
      method: 'POST',
      headers: { 'sec-fetch-site': 'same-origin' },
      body,
    });
  }
}

function pairOf(cookie: string): [name: string, value: string] {
  const cut = cookie.indexOf('=');
  return [cookie.slice(0, cut), cookie.slice(cut + 1)];
}

function formOf(html: string, action: RegExp): { action: string; fields: Record<string, string> } {
  for (const [, head = '', inside = ''] of html.matchAll(/<form([^>]*)>([\s\S]*?)<\/form>/g)) {
    const to = attribute(head, 'action');
    if (!action.test(to)) continue;
    const fields: Record<string, string> = {};
    for (const [, input = ''] of inside.matchAll(/<input([^>]*)>/g)) {
      const type = attribute(input, 'type');
      if (type === 'file' || (['checkbox', 'radio'].includes(type) && !/\schecked/.test(input))) continue;
      const name = attribute(input, 'name');
      if (name !== '') fields[name] = attribute(input, 'value');
    }
    for (const [, head = '', words = ''] of inside.matchAll(/<textarea([^>]*)>([^<]*)<\/textarea>/g)) {
      if (attribute(head, 'name') !== '') fields[attribute(head, 'name')] = unescaped(words);
    }
    for (const [, head = '', options = ''] of inside.matchAll(/<select([^>]*)>([\s\S]*?)<\/select>/g)) {
      const chosen = /<option([^>]*\sselected[^>]*)>/.exec(options) ?? /<option([^>]*)>/.exec(options);
      if (attribute(head, 'name') !== '') {
        fields[attribute(head, 'name')] = attribute(chosen?.[1] ?? '', 'value');
      }
    }
    return { action: to, fields };
  }
  throw new Error(`The page has no form for ${String(action)}.`);
}

function attribute(tag: string, name: string): string {
  return unescaped(new RegExp(`\\s${name}="([^"]*)"`).exec(tag)?.[1] ?? '');
}

function unescaped(value: string): string {
  return value
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'")
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&amp;', '&');
}
