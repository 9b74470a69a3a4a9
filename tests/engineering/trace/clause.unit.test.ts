import { describe, expect, it } from 'vitest';
import { clauseText } from '../../../src/engineering/trace/index.ts';

describe('a clause in words', () => {
  it.each([
    ['ASCE 7-16 2.4.1', { standard: 'ASCE 7', edition: '7-16', section: '2.4.1' }],
    ['ACI 318-19 14.5.2', { standard: 'ACI 318', edition: '318-19', section: '14.5.2' }],
    ['AISC 360-22 F2', { standard: 'AISC 360', edition: '360-22', section: 'F2' }],
    ['NDS Supplement 2018 Table 4A', { standard: 'NDS Supplement', edition: '2018', section: 'Table 4A' }],
    ['NDS 2018 3.7.1', { standard: 'NDS', edition: '2018', section: '3.7.1', provenance: 'seen' }],
    ['Mechanics equilibrium', { standard: 'Mechanics', edition: '', section: 'equilibrium' }],
    [
      'IRC 2021 R401.4 (from memory)',
      { standard: 'IRC', edition: '2021', section: 'R401.4', provenance: 'from memory' },
    ],
    ['Common practice', { standard: 'Practice', edition: '', section: '', provenance: 'common practice' }],
    [
      'Common practice: usual allowance',
      { standard: 'Practice', edition: '', section: 'usual allowance', provenance: 'common practice' },
    ],
  ] as const)('%s', (text, clause) => {
    expect(clauseText(clause)).toBe(text);
  });
});
