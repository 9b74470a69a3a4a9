import { dispositionWords, type Service } from '../../engineering/services/index.ts';
import type { ServiceWord } from '../../database/generated/client.ts';
import { canonicalJson } from '../../record/canonical.ts';

export const serviceWords = [
  'made_safe',
  'live_again',
  'carried_out',
  'checked',
] as const satisfies readonly ServiceWord[];

/** What was done with a service, on which version of its row. */
export interface ServiceActFact {
  readonly word: ServiceWord;
  readonly who: string;
  readonly note: string;
  readonly byName: string;
  readonly at: Date;
  readonly versionNumber: number;
  /** The row as it said then. */
  readonly content: Service;
}

export interface ServiceStanding {
  readonly decided: boolean;
  /** Proved dead or shut off, and not made live again since; null where not. */
  readonly safe: ServiceActFact | null;
  readonly carriedOut: ServiceActFact | null;
  readonly checked: ServiceActFact | null;
  /** A circuit carried out while nothing says that it was dead, nor proved dead since: the sentence; '' otherwise. */
  readonly notProvedDead: string;
  /** Done by an earlier plan: why that no longer counts; '' where nothing of the sort. */
  readonly overtaken: string;
  /** As far as this service goes, the wall may be opened. */
  readonly outOfTheWay: boolean;
  /** What stands against opening the wall, as a sentence; '' where nothing. */
  readonly holds: string;
}

/** What the plan for a service is, as far as work done by another one does not count for it. */
function planOf(service: Service): string {
  return canonicalJson({
    disposition: service.disposition,
    after: service.what === 'circuit' ? (service.after ?? null) : null,
    cuts: service.cuts,
  });
}

/** 'proved dead' of a circuit, 'shut off' of the others. */
export function safeWords(service: Service): string {
  return service.what === 'circuit' ? 'proved dead' : 'shut off';
}

/**
 * Dead while the work was done, or proved dead after it. Whoever cuts a conductor that was not tested dead relies on a
 * label (OSHA 29 CFR 1926.416(a), 1926.417, from memory), so that work alone proves nothing.
 */
function isProvedDead(acts: readonly ServiceActFact[], carriedOut: ServiceActFact): boolean {
  const at = acts.indexOf(carriedOut);
  const before = acts.slice(0, at).findLast(({ word }) => word === 'made_safe' || word === 'live_again');
  return before?.word === 'made_safe' || acts.slice(at).some(({ word }) => word === 'made_safe');
}

/** Where a service stands. Pure; the acts come oldest first. */
export function serviceStanding(
  title: string,
  service: Service,
  acts: readonly ServiceActFact[],
): ServiceStanding {
  const decided = service.disposition !== 'not decided';
  const lastLive = [...acts].reverse().find((act) => act.word === 'made_safe' || act.word === 'live_again');
  const safe = lastLive?.word === 'made_safe' ? lastLive : null;
  const plan = planOf(service);
  const lastOf = (word: ServiceWord) => [...acts].reverse().find((act) => act.word === word) ?? null;
  const done = lastOf('carried_out');
  const carriedOut = done !== null && planOf(done.content) === plan ? done : null;
  const check = lastOf('checked');
  const checked =
    carriedOut !== null &&
    check !== null &&
    acts.indexOf(check) > acts.indexOf(carriedOut) &&
    planOf(check.content) === plan
      ? check
      : null;
  const overtaken =
    done !== null && carriedOut === null
      ? `Carried out as version ${done.versionNumber} said: ${dispositionWords(done.content)}. It says otherwise now.`
      : '';
  const notProvedDead =
    carriedOut === null || service.what !== 'circuit' || isProvedDead(acts, carriedOut)
      ? ''
      : `Logged as carried out by ${carriedOut.who} (${dispositionWords(service)}), but not as proved dead before or since: a cable may still be live in the wall. Test it, and log that.`;
  const outOfTheWay = decided && (safe !== null || (carriedOut !== null && notProvedDead === ''));
  const holds = !decided
    ? `${title}: nobody has decided what becomes of it.`
    : outOfTheWay
      ? ''
      : notProvedDead !== ''
        ? `${title}: ${notProvedDead}`
        : `${title}: neither ${safeWords(service)} nor ${dispositionWords(service)} by anybody yet.`;
  return { decided, safe, carriedOut, checked, notProvedDead, overtaken, outOfTheWay, holds };
}

/** Why this can't be logged now, as a sentence; '' where it can. */
export function actProblem(word: ServiceWord, service: Service, standing: ServiceStanding): string {
  switch (word) {
    case 'made_safe':
      return standing.safe === null
        ? ''
        : `It is logged as ${safeWords(service)} already, by ${standing.safe.who}.`;
    case 'live_again':
      return standing.safe === null
        ? `It was not logged as ${safeWords(service)}: it counts as live anyway.`
        : '';
    case 'carried_out':
      if (!standing.decided) return 'Write down first what becomes of it.';
      return standing.carriedOut === null ? '' : `That is logged already, by ${standing.carriedOut.who}.`;
    case 'checked':
      return standing.carriedOut === null ? 'Nothing was carried out yet that could be checked.' : '';
  }
}
