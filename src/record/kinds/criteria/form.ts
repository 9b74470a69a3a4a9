import { optionsOf } from '../../../web/forms/choices.ts';
import type { Typed } from '../../../web/forms/spec.ts';
import type { KindForm } from '../form.ts';

/**
 * The standards that go with each edition of the residential code, by its chapter 44 (from memory), as far as they are
 * held here: the 2018 IRC names ACI 318-14, for which 318-19 stands in. Every figure is there to be changed.
 */
const standardsWith = {
  '2018': { asce7: '7-16', nds: '2018', aisc360: '360-16' },
  '2021': { asce7: '7-16', nds: '2018', aisc360: '360-16' },
  '2024': { asce7: '7-22', nds: '2024', aisc360: '360-22' },
} as const;

/** What a jurisdiction on this edition would ask of an ordinary house. */
function usualBy(irc: keyof typeof standardsWith): Typed {
  const { asce7, nds, aisc360 } = standardsWith[irc];
  return {
    ...usual,
    'editions.irc': irc,
    'editions.asce7': asce7,
    'editions.nds': nds,
    'editions.aisc360': aisc360,
  };
}

const usual = {
  'editions.aci318': '318-19',
  groundSnowPsf: '',
  snowExposureFactor: '1.0',
  snowThermalFactor: '1.1',
  snowImportanceFactor: '1.0',
  windUpliftPsf: '0',
  windWallPsf: '0',
  soilBearingPsf: '1500',
  liveDeflectionRatio: '360',
  totalDeflectionRatio: '240',
};

export const criteriaForm: KindForm = {
  kind: 'criteria',
  name: () => ({ key: 'criteria', title: 'Design criteria' }),
  start: () => usualBy('2021'),
  starts: {
    'IRC 2018': usualBy('2018'),
    'IRC 2021': usualBy('2021'),
    'IRC 2024': usualBy('2024'),
  },
  spec: {
    fields: [
      {
        kind: 'group',
        label: 'Editions',
        hint: 'As the jurisdiction has adopted them. Where editions differ, these decide.',
        prefix: 'editions',
        fields: [
          {
            kind: 'select',
            name: 'irc',
            label: 'Residential code (IRC)',
            options: optionsOf(['2018', '2021', '2024']),
          },
          {
            kind: 'select',
            name: 'asce7',
            label: 'Loads (ASCE 7)',
            hint: '7-22 maps give strength-level snow, 7-16 maps do not: keep edition and ground snow together.',
            options: optionsOf(['7-16', '7-22']),
          },
          { kind: 'select', name: 'nds', label: 'Wood (NDS)', options: optionsOf(['2018', '2024']) },
          { kind: 'select', name: 'aci318', label: 'Concrete (ACI 318)', options: optionsOf(['318-19']) },
          {
            kind: 'select',
            name: 'aisc360',
            label: 'Steel (AISC 360)',
            options: optionsOf(['360-16', '360-22']),
          },
        ],
      },
      {
        kind: 'group',
        label: 'Snow',
        fields: [
          {
            kind: 'number',
            name: 'groundSnowPsf',
            label: 'Ground snow pg',
            example: '30',
            unit: 'psf',
            hint: 'From the building department.',
          },
          {
            kind: 'number',
            name: 'snowExposureFactor',
            label: 'Exposure factor Ce',
            help: ['exposure'],
            example: '1.0',
            unit: 'factor',
            hint: 'ASCE 7 Table 7.3-1; 1.0 for a partly exposed roof.',
          },
          {
            kind: 'number',
            name: 'snowThermalFactor',
            label: 'Thermal factor Ct',
            help: ['thermal'],
            example: '1.1',
            unit: 'factor',
            hint: 'ASCE 7 Table 7.3-2; 1.1 over a cold, ventilated attic.',
          },
          {
            kind: 'number',
            name: 'snowImportanceFactor',
            label: 'Importance factor Is',
            example: '1.0',
            unit: 'factor',
            hint: '1.0 for a house; 7-22 has none.',
          },
          {
            kind: 'number',
            name: 'winterWindParameter',
            label: 'Winter wind parameter W2',
            example: '0.45',
            unit: 'factor',
            hint: 'ASCE 7-22 drifts only.',
            optional: true,
          },
        ],
      },
      {
        kind: 'group',
        label: 'Wind',
        fields: [
          {
            kind: 'number',
            name: 'windUpliftPsf',
            label: 'Net uplift on the roof',
            example: '0, or 18',
            unit: 'psf',
            hint: 'Strength level, ASCE 7 chapters 26 to 30; 0 where none is counted.',
          },
          {
            kind: 'number',
            name: 'windWallPsf',
            label: 'Pressure on walls',
            example: '0 inside, 20 in an outer wall',
            unit: 'psf',
            hint: 'Strength level; loads the kings of an exterior wall.',
          },
        ],
      },
      {
        kind: 'number',
        name: 'soilBearingPsf',
        label: 'Soil bearing',
        example: '1500',
        unit: 'psf',
        hint: 'Allowable, or presumptive by IRC Table R401.4.1.',
      },
      {
        kind: 'group',
        label: 'Deflection limits',
        fields: [
          {
            kind: 'number',
            name: 'liveDeflectionRatio',
            label: 'Span ÷ this, under live load',
            help: ['deflection'],
            unit: 'span ÷',
            example: '360 (IRC Table R301.7, floors)',
          },
          {
            kind: 'number',
            name: 'totalDeflectionRatio',
            label: 'Span ÷ this, all load with creep',
            unit: 'span ÷',
            example: '240',
          },
          {
            kind: 'number',
            name: 'absoluteDeflectionIn',
            label: 'Never more than',
            example: '0.5',
            unit: 'in',
            optional: true,
          },
        ],
      },
    ],
  },
};
