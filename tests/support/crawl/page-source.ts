const UUID = /[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}/g;

/** An address without what tells one house, item, page or search from the next. */
export function patternOf(address: string): string {
  const { pathname, searchParams } = new URL(address, 'http://here');
  const path = pathname
    .replace(UUID, ':id')
    .split('/')
    .map((part) => (/^\d+$/.test(part) ? ':number' : part))
    .join('/');
  const keys = [...new Set(searchParams.keys())].sort().join('&');
  return keys === '' ? path : `${path}?${keys}`;
}

/** Where a page leads: its links, its pictures, and its forms that ask without changing anything. */
export function linksOf(html: string): string[] {
  const links = [...html.matchAll(/<(?:a|img)\s[^>]*>/g)].flatMap(([tag]) => {
    const link = attributeOf(tag, tag.startsWith('<img') ? 'src' : 'href');
    return link === undefined || link.startsWith('#') ? [] : [link.replace(/#.*$/, '')];
  });
  for (const [, head = '', inside = ''] of html.matchAll(/<form(\s[^>]*)>([\s\S]*?)<\/form>/g)) {
    if (attributeOf(head, 'method')?.toLowerCase() !== 'get') continue;
    // A browser does not send it before something is typed.
    if (/<input\s[^>]*\srequired[\s>]/.test(inside)) continue;
    links.push(`${attributeOf(head, 'action') ?? ''}?${asSent(inside).toString()}`);
  }
  return links;
}

/** What a form sends as the page has it filled in. */
function asSent(inside: string): URLSearchParams {
  const sent = new URLSearchParams();
  for (const [tag] of inside.matchAll(/<input\s[^>]*>/g)) {
    const name = attributeOf(tag, 'name');
    const choice = /^(?:radio|checkbox)$/.test(attributeOf(tag, 'type') ?? '');
    if (name === undefined || (choice && !/\schecked/.test(tag))) continue;
    sent.append(name, attributeOf(tag, 'value') ?? '');
  }
  for (const [, head = '', options = ''] of inside.matchAll(/<select(\s[^>]*)>([\s\S]*?)<\/select>/g)) {
    const tags = [...options.matchAll(/<option\s[^>]*>/g)].map(([tag]) => tag);
    const chosen = tags.find((tag) => /\sselected/.test(tag)) ?? tags[0] ?? '';
    sent.append(attributeOf(head, 'name') ?? '', attributeOf(chosen, 'value') ?? '');
  }
  return sent;
}

function attributeOf(tag: string, name: string): string | undefined {
  return new RegExp(`\\s${name}="([^"]*)"`).exec(tag)?.[1]?.replaceAll('&amp;', '&');
}

/** Times of day that a page writes without the markup by which a browser writes them in its own zone. */
export function bareMoments(html: string): string[] {
  const others = html
    .replaceAll(/<time [^>]*datetime="[^"]+"[^>]*>[^<]*<\/time>/g, '')
    .replaceAll(/\b\w{3} \d{1,2}, \d{4}, \d{1,2}:\d{2}\s[AP]M by the camera’s clock/g, '');
  return [...others.matchAll(/\b\w{3} \d{1,2}, \d{4}, \d{1,2}:\d{2}\s[AP]M/g)].map(([text]) => text);
}

/** What a page is made of: each tag with its classes, role and type, once. */
export function featuresOf(html: string): Set<string> {
  const features = new Set<string>();
  for (const [, name = '', rest = ''] of html.matchAll(/<([a-z][a-z0-9-]*)((?:\s[^<>]*)?)>/g)) {
    const told = [...rest.matchAll(/\s(class|role|type|aria-current|disabled)(?:="([^"]*)")?/g)];
    features.add([name, ...told.map(([, key = '', value = '']) => `${key}=${value.trim()}`)].join(' '));
  }
  return features;
}
