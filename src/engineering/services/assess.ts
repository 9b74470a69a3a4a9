import type { Check, Editions, Notice } from '../trace/index.ts';
import { serviceCautions } from './cautions.ts';
import { checkCuts } from './cuts.ts';
import { checkOvercurrent } from './overcurrent.ts';
import type { Circuit, Service } from './service.ts';

export interface Assessment {
  readonly checks: readonly Check[];
  readonly notices: readonly Notice[];
}

/** Circuits whose breaker stays on a conductor of theirs. */
const stays: ReadonlySet<Circuit['disposition']> = new Set(['kept', 're-routed', 'extended', 'coiled']);

/**
 * All that can be said of a service from what is written down. `editions` is needed for holes and notches alone.
 * @throws Refusal for a cut or a breaker without size
 */
export function assessService(service: Service, editions: Editions | null): Assessment {
  const checks: Check[] = [];
  const notices = [...serviceCautions(service)];
  if (service.what === 'circuit') {
    const found = checkOvercurrent('breaker', 'as found', service);
    if (found !== null) checks.push(found);
    const after =
      service.after === undefined ? null : checkOvercurrent('after', 'after the work', service.after);
    if (after !== null) checks.push(after);
    if (found?.passes === false && stays.has(service.disposition) && service.after === undefined) {
      notices.push({
        id: 'stays-over-fused',
        severity: 'caution',
        text: 'The breaker is too large for its cable and nothing is said of changing it: write down the breaker and cable after the work.',
        clause: found.clause,
      });
    }
  }
  if (editions !== null) checks.push(...checkCuts(service, editions));
  return { checks, notices };
}
