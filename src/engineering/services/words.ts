import { formatFeetInches, formatInches } from '../units/index.ts';
import type { Circuit, Disposition, FramingCut, Service } from './service.ts';

/** What becomes of a service, in the words that are said on site. */
export function dispositionWords(service: Service): string {
  if (service.what === 'circuit') return circuitDisposition(service);
  const words: Readonly<Record<(typeof service)['disposition'], string>> = {
    'not decided': 'not decided yet',
    kept: 'kept, protected',
    're-routed': 're-routed',
    removed: 'removed and capped',
    abandoned: 'left in place, capped at both ends',
  };
  return words[service.disposition];
}

function circuitDisposition(circuit: Circuit): string {
  const words: Readonly<Record<Disposition, string>> = {
    'not decided': 'not decided yet',
    kept: 'made up and kept live',
    're-routed': 're-routed',
    extended: 'extended',
    removed: 'removed back to the panel',
    coiled: `coiled for reuse, ${formatFeetInches(circuit.coiledLengthIn ?? 0, { to: 16 })} left`,
    abandoned: 'left in place, dead and capped at both ends',
  };
  return words[circuit.disposition];
}

/** 'Circuit 4', '2 in vent', '6 in round supply duct', '3/4 in gas'. */
export function serviceName(service: Service): string {
  switch (service.what) {
    case 'circuit':
      return `Circuit ${service.breaker}`;
    case 'pipe':
      return `${formatInches(service.sizeIn, { to: 16 })} ${service.role}`;
    case 'duct':
      return `${service.size} ${service.role} duct`;
    case 'gas':
      return `${formatInches(service.sizeIn, { to: 16 })} gas`;
  }
}

/** 'Circuit 4: den, hall'. */
export function serviceTitle(service: Service): string {
  const feeds = service.feeds === '' ? (service.what === 'circuit' ? service.panelLabel : '') : service.feeds;
  return `${serviceName(service)}${feeds === '' ? '' : `: ${feeds}`}`.slice(0, 120);
}

/** '20 A on 12 AWG aluminium'; what was not read is said. */
export function conductorWords({
  amps,
  awg,
  conductor,
}: Pick<Circuit, 'amps' | 'awg' | 'conductor'>): string {
  const metal = conductor === 'not read' ? 'metal not read' : conductor;
  return `${amps} A on ${awg === 'not read' ? 'size not read' : `${awg} AWG`} ${metal}`;
}

export function cutWords(cut: FramingCut): string {
  const size = formatInches(cut.sizeIn, { to: 16 });
  const where = cut.through === 'joist' ? `, ${cut.place}` : '';
  return `${size} ${cut.kind} in a ${formatInches(cut.memberDepthIn, { to: 16 })} ${cut.through}${where}, ${formatInches(cut.edgeIn, { to: 16 })} to the edge${cut.plated ? ', plated' : ''}`;
}
