/** An invented result with all that the kit screens read; for tests. */
import { quantityOf, resultWith, saying } from '../../ui/result/sample';

export const SAMPLE = resultWith({
  level: 'practise',
  interim: true,
  quantities: [
    quantityOf('mean-rested', 'forward', 150),
    quantityOf('mean-tired', 'forward', 120),
    quantityOf('mean-rested', 'left', 95),
    quantityOf('usable', 'forward', 120),
    quantityOf('usable', 'left', 66.5, { origin: 'assumed' }),
  ],
  choices: [
    {
      control: 'kit-light',
      site: 'chin',
      indoors: 'feasible',
      outdoors: 'marginal',
      rank: 2,
      role: 'fallback',
      messages: [saying('More sensitive than needed.')],
      reasons: [
        {
          rule: 'rough-head',
          outdoors_only: true,
          verdict: 'marginal',
          message: saying('Only after a trial on rough ground.'),
          change: saying('Drive 20 m on rough ground.'),
        },
        { rule: 'force', verdict: 'feasible', message: saying('Reserve 6.65.') },
      ],
    },
    {
      control: 'kit-small',
      site: 'chin',
      indoors: 'feasible',
      outdoors: 'feasible',
      rank: 1,
      role: 'main',
      messages: [saying('The least sensitive one with enough reserve.')],
      reasons: [{ rule: 'force', verdict: 'feasible', message: saying('Reserve 3.3.') }],
    },
    {
      control: 'class:standard',
      site: 'chin',
      indoors: 'not-feasible',
      outdoors: 'not-feasible',
      messages: [saying('Short of force.')],
      reasons: [{ rule: 'force', verdict: 'not-feasible', message: saying('Reserve 0.3, needs 3.'), change: saying('A lighter control.') }],
    },
    {
      control: 'kit-small',
      site: 'thumb-left',
      indoors: 'unknown',
      outdoors: 'unknown',
      messages: [saying('Reverse was not measured.')],
      reasons: [],
    },
  ],
  loads: [
    {
      control: 'kit-small',
      site: 'chin',
      direction: 'forward',
      share: 17,
      message: saying('Forward asks for 17 % of the usable force.'),
      holding: [
        quantityOf('hold-time-low', 'forward', 2.1, { unit: 'min', origin: 'assumed', message: saying('Probably at least 2.1 minutes.') }),
      ],
    },
  ],
  provenance: [
    {
      quantity: 'hold-time-low',
      formula: saying('t = a f^b'),
      source: saying('A published curve for the shoulder'),
      status: 'published',
      borrowed: true,
    },
  ],
  exposure: { site: 'chin', message: saying('Two hours a day with 12 commands a minute.') },
  recheck: { weeks: 6, message: saying('Look again in six weeks.') },
});
