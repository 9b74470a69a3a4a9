import type { Environment } from 'nunjucks';
import { clauseText, formatNumber, formatQuantity, substitution } from '../engineering/trace/index.ts';
import { formatFeetInches, formatInches } from '../engineering/units/index.ts';
import { eventWords } from '../record/events/words.ts';
import { cautionsAt } from '../site/cautions.ts';
import { upperFirst } from '../record/prose.ts';
import { topicOf } from './help/topics.ts';
import { faultInPlace } from './forms/places.ts';
import { ratioText } from './check-view.ts';
import { cameraText, moment, momentDay } from './moments.ts';
import { pageModules, styleSheet } from './served-assets.ts';

/** "3 minutes ago", "2 days ago": ages on work lists. */
export function age(then: Date | string, now: Date = new Date()): string {
  const minutes = Math.max(0, Math.round((now.getTime() - new Date(then).getTime()) / 60_000));
  if (minutes < 1) return 'just now';
  if (minutes < 60) return `${minutes} min ago`;
  const hours = Math.round(minutes / 60);
  if (hours < 48) return hours === 1 ? '1 hour ago' : `${hours} hours ago`;
  return `${Math.round(hours / 24)} days ago`;
}

/** The tag of an item beside its title: nothing where the title says it, as 'Left footing' says 'left'; with a capital, as tags begin. */
function beside(tag: string, title: string): string {
  return title
    .toLowerCase()
    .split(/[^\p{L}\p{N}-]+/u)
    .includes(tag.toLowerCase())
    ? ''
    : tag.charAt(0).toUpperCase() + tag.slice(1);
}

/** 'set 4' for those who build and look; an owner reads of plans. */
function setName(number: number, role: string | null): string {
  return role === 'owner' ? `plan number ${number}` : `set ${number}`;
}

/**
 * The few filters that templates have: all of them turn a value into text; none marks anything as safe, but for a moment
 * (`moment`, `momentDay`). And where the style sheet and the scripts of every page lie.
 */
export function addFilters(env: Environment): void {
  env.addFilter('moment', moment);
  env.addFilter('momentDay', momentDay);
  env.addFilter('cameraTime', cameraText);
  env.addFilter('age', (value: Date | string) => age(value));
  env.addFilter('num', formatNumber);
  env.addFilter('quantity', formatQuantity);
  env.addFilter('feet', (inches: number) => formatFeetInches(inches, { to: 16 }));
  env.addFilter('inches', (inches: number) => formatInches(inches, { to: 16 }));
  env.addFilter('clause', clauseText);
  env.addFilter('upperFirst', upperFirst);
  env.addFilter('beside', beside);
  env.addFilter('inPlace', faultInPlace);
  env.addFilter('substituted', substitution);
  env.addFilter('eventWords', eventWords);
  env.addFilter('ratio', (ratio: number) => ratioText(ratio, ratio <= 1 + 1e-9));
  env.addFilter('cautionsAt', cautionsAt);
  env.addFilter('helpTopic', topicOf);
  env.addGlobal('setName', setName);
  env.addGlobal('styleSheet', styleSheet.address);
  env.addGlobal('pageModules', pageModules);
  env.addFilter('short', (hash: string) => hash.slice(0, 12));
}
