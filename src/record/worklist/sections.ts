import type { Role } from '../../people/roles.ts';
import type { ItemState } from '../items/state.ts';

/**
 * What waits for whom. Sections of states are filled by one query; `out of date` and `open questions` are found
 * in ways of their own.
 */
export const stateSections = {
  contractor: {
    'sent back': ['returned', 'withdrawn'],
    // Until a set holds it: the set then says what changed.
    'changed by the engineer': ['revised'],
    'to submit': ['not submitted'],
    'to fill in': ['empty'],
  },
  engineer: {
    'to mark': ['awaiting mark', 'withdrawn'],
  },
} as const satisfies Partial<Record<Role, Readonly<Record<string, readonly ItemState['is'][]>>>>;

export type StateSection =
  keyof (typeof stateSections)['contractor'] | keyof (typeof stateSections)['engineer'];
export type Section = StateSection | 'out of date' | 'open questions';

/** The roles that have a work list of items; inspector and owner see openings and their sets. */
export const workingRoles = ['contractor', 'engineer'] as const;
export type WorkingRole = (typeof workingRoles)[number];

export interface SectionState {
  readonly role: WorkingRole;
  readonly section: StateSection;
  readonly state: ItemState['is'];
}

/** The table above as rows. */
export const sectionStates: readonly SectionState[] = workingRoles.flatMap((role) =>
  Object.entries(stateSections[role]).flatMap(([section, states]: [string, readonly ItemState['is'][]]) =>
    states.map((state) => ({ role, section: section as StateSection, state })),
  ),
);
