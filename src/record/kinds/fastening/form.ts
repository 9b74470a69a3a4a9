import type { Beam } from '../../../engineering/proposal/design.ts';
import { memberDepthIn } from '../../../engineering/proposal/member-depth.ts';
import { formatInches } from '../../../engineering/units/index.ts';
import type { KindForm } from '../form.ts';
import { demandFields } from './form-demand.ts';
import { jointFields } from './form-joint.ts';

export const fasteningForm: KindForm = {
  kind: 'fastening',
  name: (there) => {
    let number = there.length + 1;
    while (there.includes(`N${number}`)) number += 1;
    return { key: `N${number}`, title: `Row N${number}` };
  },
  start(grounds, key) {
    const member = (grounds.get('beam') as Beam | undefined)?.member;
    const ply = member?.kind === 'composite' ? formatInches(member.thicknessIn, { to: 16 }) : '1 1/2"';
    const depth = member === undefined ? '9 1/4"' : formatInches(memberDepthIn(member), { to: 16 });
    const piece = (row: number, name: string) => ({
      [`members.${row}.name`]: name,
      [`members.${row}.material`]: 'wood',
      [`members.${row}.species`]: member?.kind === 'composite' ? member.class : 'DF-L No.2',
      [`members.${row}.thicknessIn`]: ply,
      [`members.${row}.widthIn`]: depth,
      [`members.${row}.specificGravity`]: '0.5',
      [`members.${row}.angleDeg`]: '90',
    });
    return {
      id: key.toLowerCase(),
      joint: 'beam plies',
      where: 'Beam, full length',
      ...piece(0, 'outer ply'),
      ...piece(1, 'next ply'),
      layup: 'each to the next',
      betweenIn: '0"',
      'fastener.kind': 'nail',
      'fastener.style': 'common',
      'fastener.diameterIn': '0.162"',
      'fastener.lengthIn': '3 1/2"',
      method: 'face',
      driven: 'both sides',
      'pattern.kind': 'spaced',
      'pattern.lengthIn': '139"',
      'pattern.rows': '3',
      'pattern.spacingIn': '12"',
      'pattern.rowSpacingIn': '3"',
      'pattern.staggered': 'yes',
      edgeDistanceIn: '2"',
      endDistanceIn: '2 1/2"',
      endLoading: 'across grain',
      loadRuns: 'across rows',
      'conditions.madeWhen': 'dry',
      'conditions.usedWhen': 'dry',
      'conditions.temperatureF': '75',
      'demand.per': 'foot',
      'demand.durationFactor': '1.0',
      'demand.lateralPlf': '0',
      'demand.withdrawalPlf': '0',
      'demand.source': 'Side load of the beam',
      'basis.kind': 'yield limit',
      'basis.shear': 'single',
    };
  },
  spec: { fields: [...jointFields, ...demandFields] },
};
