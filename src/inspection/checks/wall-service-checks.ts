import {
  conductorWords,
  cutWords,
  dispositionWords,
  largestBreaker,
  serviceName,
  serviceSchema,
  type Circuit,
  type Service,
} from '../../engineering/services/index.ts';
import { upperFirst } from '../../record/prose.ts';
import { holdPoints, type CheckRule } from './check.ts';

/** What is looked at on a service that stood in the wall, by what becomes of it. */
export function wallServiceChecks(content: unknown): CheckRule[] {
  const service = serviceSchema.parse(content);
  if (service.disposition === 'not decided') return [undecided(service)];
  return service.what === 'circuit' ? circuitChecks(service) : [otherCheck(service)];
}

/** Nobody takes a wall down over a service of which nobody knows what becomes of it. */
function undecided(service: Service): CheckRule {
  return {
    rule: 'disposition',
    visitKind: 'shoring',
    title: `${serviceName(service)}: what becomes of it`,
    criterion: 'Decided, proved dead or shut off, and out of the way before the wall is opened.',
    clause: '29 CFR 1926.850(c)',
    howToLook:
      'Ask for its row in the list of services; see the breaker or valve locked, and a tester tried on it.',
    photoRequired: false,
    holdPoint: holdPoints.wallOut,
  };
}

/** A circuit as it is after the work: what the record says of the change, else as found. */
function afterwards(circuit: Circuit): Pick<Circuit, 'amps' | 'awg' | 'conductor'> {
  return circuit.after ?? circuit;
}

function circuitChecks(circuit: Circuit): CheckRule[] {
  const rough = { visitKind: 'electrical', photoRequired: true, holdPoint: holdPoints.cover } as const;
  const name = serviceName(circuit);
  const becomes = dispositionWords(circuit);
  if (circuit.disposition === 'removed' || circuit.disposition === 'abandoned') {
    return [
      {
        ...rough,
        rule: 'gone',
        title: `${name}: ${becomes}`,
        criterion:
          circuit.disposition === 'removed'
            ? 'Cable out of the wall back to the panel, no end left inside; breaker off or given to the new cable, the panel directory says so.'
            : 'Dead, cut free, capped and marked at both ends, both ends in boxes that stay accessible.',
        clause: 'NEC 408.4(A), 314.29',
        howToLook: 'Follow the run from the panel; test the last end with a tester tried on a live one.',
      },
    ];
  }
  const checks: CheckRule[] = [
    {
      ...rough,
      rule: 'run',
      title: `${name}: ${becomes}`,
      criterion: [
        `Feeds ${circuit.feeds === '' ? 'what was traced' : circuit.feeds}; stapled within 12 in of each box and every 4 1/2 ft at most; boxes and splices stay accessible`,
        ...(circuit.cuts.length === 0 ? [] : [`holes as listed: ${circuit.cuts.map(cutWords).join('; ')}`]),
        'steel plate wherever less than 1 1/4 in of wood is left before the cable.',
      ].join('; '),
      clause: 'NEC 334.30, 300.4(A), 314.29',
      howToLook:
        'Tape from the box to the first staple, and from the hole to the face; look for splices outside of boxes.',
    },
    breakerCheck(circuit, name),
  ];
  if (circuit.conductor === 'aluminium' || circuit.conductor === 'copper-clad') {
    checks.push({
      ...rough,
      rule: 'splices',
      title: `${name}: joints of ${circuit.conductor}`,
      criterion:
        'Every joint to copper made by a method listed for both metals, by a qualified electrician; devices listed for the metal.',
      clause: 'NEC 110.14',
      howToLook: 'Read the listing on the connector; no push-in terminals; look for scorched or loose ends.',
    });
  }
  return checks;
}

function breakerCheck(circuit: Circuit, name: string): CheckRule {
  const { amps, awg, conductor } = afterwards(circuit);
  const most = awg === 'not read' || conductor === 'not read' ? null : largestBreaker(conductor, awg);
  const limit = most === null ? 'size and metal read from the jacket' : `at most ${most.amps} A`;
  const guard =
    circuit.disposition === 'extended' || circuit.disposition === 're-routed'
      ? '; arc-fault protection where the circuit was lengthened or changed'
      : '';
  return {
    rule: 'breaker',
    visitKind: 'electrical',
    photoRequired: true,
    holdPoint: holdPoints.cover,
    title: `${name}: breaker and directory`,
    criterion: `${conductorWords({ amps, awg, conductor })}, ${limit}${circuit.multiWire ? '; both breakers open together' : ''}${guard}; the panel directory says what it feeds.`,
    clause: 'NEC 240.4(D), 210.12(D), 408.4(A)',
    howToLook:
      'Read the rating on the handle and the size on the jacket; compare the directory with what goes dead.',
  };
}

const otherCriteria = {
  pipe: {
    clause: 'IRC P2503, P2603.2.1',
    criterion:
      'tested with water or air, no leak; slope as it was; plates where less than 1 1/4 in of wood is left',
    howToLook: 'See the test stand; lay a level on the pipe; tape from the pipe to the face of the stud.',
  },
  duct: {
    clause: 'IRC M1601.4',
    criterion: 'joints sealed and fastened, held up, not squeezed; goes where it went',
    howToLook: 'Run the fan; feel the joints; look for a kink behind the new pack.',
  },
  gas: {
    clause: 'IRC G2417',
    criterion: 'pressure test held and written down by the licensed trade; nothing opened again before that',
    howToLook: 'Read the gauge at the start and the end of the test; smell and soap every joint.',
  },
} as const;

function otherCheck(service: Exclude<Service, Circuit>): CheckRule {
  const { clause, criterion, howToLook } = otherCriteria[service.what];
  const gone = service.disposition === 'removed' || service.disposition === 'abandoned';
  const cuts = service.cuts.length === 0 ? '' : `; holes as listed: ${service.cuts.map(cutWords).join('; ')}`;
  return {
    rule: 'run',
    visitKind: 'cover',
    title: `${serviceName(service)}: ${dispositionWords(service)}`,
    criterion:
      gone && service.what !== 'gas'
        ? 'Capped for good at both ends; nothing in use hung on it.'
        : `${upperFirst(criterion)}${cuts}.`,
    clause,
    howToLook,
    photoRequired: true,
    holdPoint: holdPoints.cover,
  };
}
