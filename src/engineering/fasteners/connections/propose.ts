import type { FasteningRow } from '../schedule/row.ts';
import { proposeBeamPlies } from './beam-plies.ts';
import type { FasteningContext } from './context.ts';
import { proposeHangers, proposeJoistTies } from './joists.ts';
import {
  proposeBeamSeat,
  proposeBeamToKing,
  proposeKingToPlate,
  proposeSolePlateAnchors,
} from './pack-ends.ts';
import { proposeBraceFoot, proposeShoring, proposeTopPlate } from './plates-and-braces.ts';
import { proposeJackToKing, proposePackPlies } from './stud-pack.ts';

/**
 * The whole schedule of an opening, row by row, computed from its own demands. What can't be made to pass is
 * proposed all the same, so that the failing row shows what is missing (a listing, an anchor value, a longer nail).
 * @throws Refusal with the path in the context of the figure at fault
 */
export function proposeRows(context: FasteningContext): readonly FasteningRow[] {
  return [
    ...proposeBeamPlies(context),
    ...context.packs.flatMap((pack) => [
      ...proposePackPlies(context, pack),
      ...proposeJackToKing(context, pack),
      ...proposeKingToPlate(context, pack),
      ...proposeBeamToKing(context, pack),
      ...proposeBeamSeat(context, pack),
      ...proposeSolePlateAnchors(context, pack),
    ]),
    ...context.hangers.flatMap((line) => proposeHangers(context, line)),
    ...proposeJoistTies(context),
    ...proposeTopPlate(context),
    ...context.braces.flatMap((foot) => proposeBraceFoot(context, foot)),
    ...proposeShoring(context),
  ];
}
