import type { Actor } from '../actor.ts';
import { dayOf } from '../house-time.ts';
import type { Role } from '../people/roles.ts';
import type { Deps } from '../web/deps.ts';
import { demoTimeZone } from './cinder-ferry.ts';
import { daysAfter, momentAt } from './story-time.ts';

/** What the demo is told with: the use cases and the file store, no pages. */
export type DemoDeps = Pick<Deps, 'prisma' | 'clock' | 'kinds' | 'listeners' | 'blobs'>;

/**
 * The demo's past: everything goes through the use cases, at the hour that the story says, so that the record reads
 * as one that grew. The last day of the story is yesterday.
 */
export interface Telling {
  readonly deps: DemoDeps;
  readonly projectId: string;
  /** Turns to a day and an hour of the story; each act after it comes a minute later. */
  readonly on: (day: number, hour?: number) => void;
  /** The moment that the story has come to. */
  readonly now: () => Date;
  readonly as: (role: Role) => Actor;
}

export interface StoryClock {
  readonly clock: () => Date;
  readonly on: (day: number, hour?: number) => void;
  readonly now: () => Date;
}

/** Hours are those of the clock in the house. @param lastDay the day of the story that is yesterday there by `today` */
export function storyClock(today: Date, lastDay: number): StoryClock {
  let moment = today;
  return {
    on(day, hour = 9) {
      const then = daysAfter(dayOf(today, demoTimeZone), day - lastDay - 1);
      moment = momentAt(then, hour, demoTimeZone);
    },
    now: () => moment,
    clock() {
      moment = new Date(moment.getTime() + 60_000);
      return moment;
    },
  };
}
