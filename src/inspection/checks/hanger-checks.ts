import { hangerSchema } from '../../engineering/proposal/design.ts';
import { formatInches } from '../../engineering/units/index.ts';
import { hangerNailWords } from '../../record/kinds/hanger/kind.ts';
import { holdPoints, type CheckRule } from './check.ts';

const inches = (value: number) => formatInches(value, { to: 16 });

/** What an inspector looks at on a line of hangers. */
export function hangerChecks(content: unknown): CheckRule[] {
  const hanger = hangerSchema.parse(content);
  const framing = { visitKind: 'framing', holdPoint: holdPoints.shoringOut } as const;
  const { listing } = hanger;
  const clause = listing === undefined ? 'IRC R502.6.2' : `${listing.report}; IRC R502.6.2`;
  return [
    {
      ...framing,
      rule: 'listing',
      title: `Hangers as listed, ${hanger.side} face`,
      criterion:
        listing === undefined
          ? 'The approved version names no listing: nothing here can be accepted before the engineer has named one.'
          : `The hanger of ${listing.report} for ${hanger.joistSize} (${listing.downLb} lb down, ${listing.upLb} lb up), ${listing.nailsRequired} nails asked for; no flange bent, cut or used twice.`,
      clause,
      howToLook: 'Read the stamp on the seat or flange; compare it with the report on site.',
      photoRequired: false,
    },
    {
      ...framing,
      rule: 'nails',
      title: `Hanger nails, ${hanger.side} face`,
      criterion: `Every hole filled: ${hangerNailWords(hanger)} in each hanger${listing?.shortNailsAllowed === true ? '' : ', full length where they slant, no 1 1/2 in nails'}.`,
      clause,
      howToLook: `Look at every hanger, nail heads first; read diameter and length on the box; pull one nail in doubt and tape it: ${inches(hanger.nailLengthIn)}.`,
      photoRequired: true,
    },
    {
      ...framing,
      rule: 'seat',
      title: `Joists in their hangers, ${hanger.side} face`,
      criterion: `A hanger for every ${hanger.joistSize} joist at ${inches(hanger.spacingIn)}${listing === undefined ? '' : `, as listed in ${listing.report}`}; joist down on its seat, gap to the beam 1/8 in at most, no split at the nails.`,
      clause,
      howToLook: 'Push the joist up: it must not move. Slip a 1/8 in gauge between joist end and beam.',
      photoRequired: true,
    },
  ];
}
