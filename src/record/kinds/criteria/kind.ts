import { criteriaSchema, type Criteria } from '../../../engineering/proposal/criteria.ts';
import type { ItemKindDefinition } from '../definition.ts';

export const criteriaKind: ItemKindDefinition<Criteria> = {
  kind: 'criteria',
  title: 'Design criteria',
  reviewable: false,
  restsOnKinds: [],
  schema: criteriaSchema,
  labels: {
    'editions.asce7': 'ASCE 7 edition',
    'editions.nds': 'NDS edition',
    'editions.irc': 'IRC edition',
    groundSnowPsf: 'ground snow',
    soilBearingPsf: 'soil bearing',
    liveDeflectionRatio: 'span ÷ live deflection',
    totalDeflectionRatio: 'span ÷ total deflection',
  },
  describe: (criteria) => [
    `IRC ${criteria.editions.irc}, ASCE ${criteria.editions.asce7}, NDS ${criteria.editions.nds}`,
    `Ground snow ${criteria.groundSnowPsf} psf, Ce ${criteria.snowExposureFactor}, Ct ${criteria.snowThermalFactor}, Is ${criteria.snowImportanceFactor}`,
    `Wind: ${criteria.windUpliftPsf} psf uplift on the roof, ${criteria.windWallPsf} psf on walls (strength level)`,
    `Soil bearing ${criteria.soilBearingPsf} psf`,
    `Deflection: L/${criteria.liveDeflectionRatio} under live load, L/${criteria.totalDeflectionRatio} with creep${criteria.absoluteDeflectionIn === undefined ? '' : `, ${criteria.absoluteDeflectionIn} in at most`}`,
  ],
  restsOn: () => [],
  calculate: () => null,
};
