import {
  assessService,
  conductorWords,
  cutWords,
  dispositionWords,
  serviceName,
  serviceSchema,
  type Service,
} from '../../../engineering/services/index.ts';
import { formatFeetInches } from '../../../engineering/units/index.ts';
import type { ItemContext, ItemKindDefinition } from '../definition.ts';
import { criteriaOf } from '../grounds.ts';

/** Holes and notches alone are judged by an edition of the project. */
const editionsFor = (service: Service, context: ItemContext) =>
  service.cuts.length === 0 ? null : criteriaOf(context).content.editions;

function itself(service: Service): string[] {
  switch (service.what) {
    case 'circuit':
      return [
        `Panel: ${service.panelLabel === '' ? 'unlabelled' : `“${service.panelLabel}”`}; ${service.poles === '1' ? '1 pole' : `${service.poles} poles`}, ${service.protection === 'none' ? 'no AFCI or GFCI' : service.protection === 'not read' ? 'AFCI and GFCI not read' : service.protection}`,
        `${conductorWords(service)}${service.cable === '' ? '' : `, ${service.cable}`}; ${service.boxes === 1 ? '1 box' : `${service.boxes} boxes`} in the wall`,
        ...(service.multiWire ? ['Multi-wire: one neutral for two hot conductors'] : []),
        ...(service.sharedNeutral ? ['Its neutral is joined with another circuit’s'] : []),
      ];
    case 'pipe':
    case 'gas':
      return [
        `${serviceName(service)}${service.material === '' ? '' : `, ${service.material}`}`,
        ...(service.what === 'gas'
          ? [`Shut off: ${service.shutOff === '' ? 'place not found yet' : service.shutOff}`]
          : []),
      ];
    case 'duct':
      return [serviceName(service)];
  }
}

export const serviceKind: ItemKindDefinition<Service> = {
  kind: 'service',
  title: 'Service in the wall',
  reviewable: false,
  restsOnKinds: ['criteria'],
  schema: serviceSchema,
  labels: {
    awg: 'AWG',
    panelLabel: 'label at the panel',
    positionIn: 'place in the wall',
    multiWire: 'multi-wire',
    sharedNeutral: 'shared neutral',
    coiledLengthIn: 'cable in the coil',
    'after.amps': 'breaker after the work',
    'after.awg': 'AWG after the work',
    'after.conductor': 'conductor after the work',
    sizeIn: 'size',
    shutOff: 'shut-off',
  },
  describe: (service) => [
    ...itself(service),
    `Feeds ${service.feeds === '' ? 'not traced yet' : service.feeds}; ${service.run === 'not traced' ? 'its run is not traced' : service.run}${service.positionIn === undefined ? '' : `, at ${formatFeetInches(service.positionIn, { to: 16 })}`}`,
    `What becomes of it: ${dispositionWords(service)}`,
    ...(service.what === 'circuit' && service.after !== undefined
      ? [`After the work: ${conductorWords(service.after)}`]
      : []),
    ...service.cuts.map(cutWords),
    ...(service.note === '' ? [] : [service.note]),
  ],
  restsOn(service, context) {
    if (service.cuts.length === 0) return [];
    const { item, content } = criteriaOf(context);
    return [{ on: item, label: 'edition', values: { IRC: content.editions.irc } }];
  },
  calculate: (service, context) => ({
    ...assessService(service, editionsFor(service, context)),
    steps: [],
    outputs: {},
  }),
};
