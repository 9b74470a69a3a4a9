import type { Deps } from '../../web/deps.ts';
import type { Operation } from '../operation.ts';
import { calculationOperations } from './calculations.ts';
import { deliveryOperations } from './deliveries.ts';
import { itemOperations } from './items.ts';
import { markOperations } from './marks.ts';
import { projectOperations } from './projects.ts';
import { setOperations } from './sets.ts';
import { visitOperations } from './visits.ts';

/** Every operation of the interface, in the order in which the description lists them. */
export function allOperations(deps: Deps): readonly Operation[] {
  return [
    ...projectOperations(deps),
    ...itemOperations(deps),
    ...markOperations(deps),
    ...setOperations(deps),
    ...visitOperations(deps),
    ...deliveryOperations(deps),
    ...calculationOperations(),
  ];
}
