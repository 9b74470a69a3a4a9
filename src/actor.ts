import type { Role } from './people/roles.ts';

/** Who does it, in which project, in which role: the first argument of every use case on a project. */
export interface Actor {
  readonly personId: string;
  readonly name: string;
  readonly role: Role;
  readonly projectId: string;
}

/** Time is handed in, so that tests and replays decide it. */
export type Clock = () => Date;
