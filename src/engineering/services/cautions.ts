import type { Clause, Notice } from '../trace/index.ts';
import type { Circuit, Service } from './service.ts';

const nec = (section: string): Clause => ({
  standard: 'NEC',
  edition: '2020',
  section,
  provenance: 'from memory',
});
const irc = (section: string): Clause => ({
  standard: 'IRC',
  edition: '2021',
  section,
  provenance: 'from memory',
});
const osha = (section: string): Clause => ({
  standard: 'OSHA',
  edition: '',
  section,
  provenance: 'from memory',
});
const caution = (id: string, text: string, clause?: Clause): Notice => ({
  id,
  severity: 'caution',
  text,
  ...(clause === undefined ? {} : { clause }),
});

/** What can hurt somebody, or be missed, with this very service. The last word is local code's and the licensed trade's. */
export function serviceCautions(service: Service): Notice[] {
  const own = service.what === 'circuit' ? circuitCautions(service) : otherCautions(service);
  if (service.feeds !== '' || service.disposition === 'kept') return own;
  return [
    ...own,
    caution(
      'untraced',
      'It is not traced: nobody knows yet what goes dead, dry or cold with it. Trace it before it is cut.',
    ),
  ];
}

function circuitCautions(circuit: Circuit): Notice[] {
  const notices = [
    caution(
      'dead',
      'Switch off and lock the breaker, then test every conductor with a tester that was just tried on a live one. A licensed electrician does the work, by local code.',
      osha('29 CFR 1926.416(a), 1926.417'),
    ),
  ];
  if (circuit.conductor === 'aluminium' || circuit.after?.conductor === 'aluminium') {
    notices.push(
      caution(
        'aluminium',
        'Aluminium conductors: splices to copper and new devices only by a listed method, by a qualified electrician. A loose or oxidized joint heats until it burns. No push-in connectors, no common twist-on connectors.',
        nec('110.14'),
      ),
    );
  }
  if (circuit.conductor === 'copper-clad') {
    notices.push(
      caution(
        'copper-clad',
        'Copper-clad aluminium carries less than copper of the same size and wants devices and splices listed for it.',
        nec('110.14, 240.4(D)'),
      ),
    );
  }
  if (circuit.multiWire) {
    notices.push(
      caution(
        'multi-wire',
        'Multi-wire circuit: one neutral serves two hot conductors. Both breakers have to open together, and the neutral is never opened while either is live: 240 V would reach what is made for 120 V. The neutral is spliced, not carried through a device.',
        nec('210.4(B), 300.13(B)'),
      ),
    );
  }
  if (circuit.sharedNeutral) {
    notices.push(
      caution(
        'shared-neutral',
        'Its neutral is joined with that of another circuit: it can be live with this breaker off. Switch off both, test the neutral, too, and part the circuits.',
        nec('200.4'),
      ),
    );
  }
  if (circuit.panelLabel === '') {
    notices.push(
      caution(
        'unlabelled',
        'The panel does not say what this breaker is. Take every conductor for live until it is traced and tested; label the panel afterwards.',
        nec('408.4'),
      ),
    );
  }
  if (circuit.awg === 'not read' || circuit.conductor === 'not read') {
    notices.push(
      caution(
        'not-read',
        'Size or metal of the conductor was not read: the breaker can’t be judged. Read the jacket, or gauge a bare end with the circuit proved dead.',
      ),
    );
  }
  if (
    circuit.disposition === 'extended' &&
    circuit.protection !== 'AFCI' &&
    circuit.protection !== 'AFCI and GFCI'
  ) {
    notices.push(
      caution(
        'afci',
        'A circuit of a living space that is lengthened or changed needs arc-fault protection, but for a short extension without an outlet.',
        nec('210.12(D)'),
      ),
    );
  }
  if (circuit.disposition === 'abandoned') {
    notices.push(
      caution(
        'abandoned',
        'A cable left in place is cut free and capped at both ends, and marked at both ends.',
        nec('590.3, 110.12'),
      ),
    );
  }
  return notices;
}

function otherCautions(service: Exclude<Service, Circuit>): Notice[] {
  switch (service.what) {
    case 'pipe':
      return service.role === 'supply'
        ? [
            caution(
              'water',
              'Shut the water off, open the lowest tap and let it run empty before anything is cut. Test under pressure before the wall is closed.',
              irc('P2503.7'),
            ),
          ]
        : [
            caution(
              service.role === 'vent' ? 'vent' : 'waste',
              service.role === 'vent'
                ? 'A vent keeps the traps full: cut off without a new way up, sewer gas enters the house. A licensed plumber gives it one; a capped stub does not do.'
                : 'A waste pipe keeps its slope and its cleanout on the new way. Keep the end plugged: sewer gas burns and poisons.',
              irc(service.role === 'vent' ? 'P3101, P3104' : 'P3005'),
            ),
          ];
    case 'duct':
      return [
        service.role === 'flue'
          ? caution(
              'flue',
              'A flue is not cut while anything burns on it: carbon monoxide. A licensed trade moves it, with its clearances.',
              irc('M1801, G2427'),
            )
          : caution(
              'duct',
              'Switch the air handler off and close the duct on both sides before the dust begins. Tape and wrap of the age may hold asbestos.',
              irc('M1601'),
            ),
      ];
    case 'gas':
      return [
        caution(
          'gas',
          'Shut it off, lock the valve, let it bleed off in the open, no flame and no spark about. A licensed trade cuts it, caps it at once, and tests it under pressure before it is opened again.',
          irc('G2417'),
        ),
      ];
  }
}
