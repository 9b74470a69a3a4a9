import { z } from 'zod';
import { refuseUnless } from '../../trace/index.ts';
import {
  CONCRETE_BEARING_PSI,
  GRAVITY_SENTENCE,
  steelBearingPsi,
  woodBearingPsi,
} from './bearing-strength.ts';

/** One piece that the fastener passes through or ends in, seen by the yield equations. */
export const dowelMemberSchema = z.strictObject({
  material: z.enum(['wood', 'steel', 'concrete']),
  /** Along the fastener, in. For a stud nailed through its end: the length of stud there is. */
  thicknessIn: z.number().min(0.015).max(240),
  /** Wood: assigned specific gravity G (NDS Table 12.3.3A), or the equivalent of a composite's report. */
  specificGravity: z.number().min(0.3, GRAVITY_SENTENCE).max(0.8, GRAVITY_SENTENCE).optional(),
  /** Steel other than A36 / A653 grade 33: Fu, psi. */
  ultimatePsi: z.number().min(30_000).max(150_000).optional(),
  /** Wood: angle of the load to the grain, degrees. */
  angleDeg: z.number().min(0).max(90),
});

export type DowelMember = z.infer<typeof dowelMemberSchema>;

/** G of a wood member. Refuses a wood member that does not tell it. */
export function gravityOf(member: DowelMember, path: string): number {
  refuseUnless(
    member.specificGravity !== undefined,
    `${path}.specificGravity`,
    'A wood member needs its specific gravity (NDS Table 12.3.3A).',
  );
  return member.specificGravity;
}

/** Dowel bearing strength of the member, psi, with the nominal diameter in (NDS 12.3.3, Appendix I). */
export function memberBearingPsi(member: DowelMember, diameterIn: number, path: string): number {
  switch (member.material) {
    case 'wood':
      return woodBearingPsi(gravityOf(member, path), diameterIn, member.angleDeg);
    case 'steel':
      return steelBearingPsi(member.thicknessIn, member.ultimatePsi);
    case 'concrete':
      return CONCRETE_BEARING_PSI;
  }
}
