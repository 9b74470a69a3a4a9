import { signIn, type Walker } from './crawl/crawl.ts';
import { linksOf, patternOf } from './crawl/page-source.ts';

/** The pages on which people spend their time, each with who opens it; addresses in the whole demo. */
export interface MainPage {
  readonly name: string;
  readonly who: Walker;
  readonly address: string;
}

export async function mainPages(base: string): Promise<readonly MainPage[]> {
  const contractor = await signIn(base, 'contractor');
  const first = async (page: string, pattern: string) => {
    const links = linksOf(await contractor.page(base + page));
    const found = links.find((link) => patternOf(link) === pattern);
    if (found === undefined) throw new Error(`no ${pattern} on ${page}`);
    return found;
  };
  const opening = await first('/', '/projects/:id/openings/:id');
  const project = opening.replace(/\/openings\/.*/, '');
  const beam = /href="([^"]*\/items\/[^"]*)">Beam</.exec(await contractor.page(base + opening))?.[1];
  if (beam === undefined) throw new Error('no beam on the page of the opening');
  const set = await first(opening, '/projects/:id/sets/:id');
  const delivery = await first(`${opening}/deliveries`, '/projects/:id/deliveries/:id');
  const photo = await first(delivery, '/projects/:id/attachments/:id/sheet');
  return [
    { name: 'sign in', who: 'signed out', address: '/sign-in' },
    { name: 'what waits', who: 'contractor', address: '/' },
    { name: 'project', who: 'contractor', address: project },
    { name: 'opening', who: 'contractor', address: opening },
    { name: 'beam', who: 'contractor', address: beam },
    { name: 'beam, form', who: 'contractor', address: `${beam}/edit` },
    { name: 'schedule', who: 'contractor', address: `${opening}/schedule` },
    { name: 'delivery', who: 'contractor', address: delivery },
    { name: 'photo', who: 'contractor', address: photo },
    { name: 'review', who: 'engineer', address: `${opening}/review` },
    { name: 'approved set', who: 'engineer', address: set },
    { name: 'checklist', who: 'inspector', address: `${opening}/checklist` },
    { name: 'progress', who: 'owner', address: `${opening}/progress` },
  ];
}
