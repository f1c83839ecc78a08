interface Entry {
  readonly word: string;
  readonly meaning: string;
  /** How a checklist says it in plain words, with small letters: there it can be touched too. */
  readonly plainly?: string;
}

/**
 * The trade's words that stand on screens, each with what it means. A word is
 * here once; screens name it by its id.
 */
export const glossary = {
  reserve: {
    word: 'Reserve',
    meaning:
      'How many times the force that the control asks the person can give, in the weakest needed direction and when tired. 2 is the least, 3 is enough, 7 lasts all day. The trade calls it force reserve.',
    plainly: 'force to spare',
  },
  'usable-force': {
    word: 'Usable force',
    meaning: 'The force that is planned on: the tired mean, or where nobody measured tired, seven tenths of the rested one.',
  },
  'weakest-direction': {
    word: 'Weakest direction',
    meaning: 'Of the directions that driving needs, the one with the least force. It decides, never the average.',
    plainly: 'weakest direction',
  },
  'all-day': {
    word: 'Lasts all day',
    meaning: 'Driving asks so small a part of the person’s force that it can be kept up for a whole day of use.',
  },
  'on-and-off': {
    word: 'On and off',
    meaning:
      'Force that comes and goes, as in driving with pauses. The muscles rest in between, so more may be asked than when a push is held.',
  },
  'time-on': {
    word: 'Part of the time',
    meaning: 'How much of the driving time the control is really pushed. The more of it, the less force may be asked.',
  },
  throw: {
    word: 'Way to full command',
    meaning:
      'How far the control must be moved until the chair goes at its full speed; some makers call it throw. A shorter way never makes the control lighter.',
    plainly: 'way to full command',
  },
  'dead-zone': {
    word: 'Dead zone',
    meaning: 'The middle of the control, in which small movements count for nothing. It keeps breath and tremor from driving the chair.',
    plainly: 'dead zone',
  },
  works: {
    word: 'Works',
    meaning:
      'By what was measured the person can drive with this control. Only just works: with what is said beside it. Does not work: not as it is now.',
  },
  provisional: {
    word: 'Provisional',
    meaning:
      'Worked out on this tablet. The server works it out again from the same entries when it gets them, and says so if it comes to something else.',
  },
  interim: {
    word: 'Interim',
    meaning: 'The level rests on fewer drives than it should. Drive the trial twice, once when tired.',
  },
  'unintended-force': {
    word: 'Force that was not meant',
    meaning:
      'What reaches the control without being meant: tremor, breath, the weight of head or arm, bumps. Also called unintended force.',
    plainly: 'was not meant',
  },
  coverage: {
    word: 'Answered part',
    meaning:
      'How much of a part of the checklist is answered, by the weight of its questions. Below 80 % there is a range and no single number.',
  },
  strain: {
    word: 'Strain number',
    meaning: 'How hard the driving hand works over the day: how strongly, how often and for how long. A warning sign, no diagnosis.',
  },
  damping: {
    word: 'Damping',
    meaning: 'A setting by which the chair answers more slowly, so that tremor steers it less. It answers late to the release too.',
    plainly: 'damping',
  },
} as const satisfies Readonly<Record<string, Entry>>;

export type TermId = keyof typeof glossary;

/** A piece of a text: plain, or a word that can be touched. */
export interface Piece {
  readonly text: string;
  readonly term?: TermId;
}

const entries = Object.entries(glossary) as readonly (readonly [TermId, Entry])[];

/** A text in pieces: each word of the glossary, the first time that it is said. */
export function piecesOf(text: string): readonly Piece[] {
  const found = entries
    .map(([term, { plainly }]) => ({
      term,
      at: plainly === undefined ? -1 : text.toLowerCase().indexOf(plainly),
      length: plainly?.length ?? 0,
    }))
    .filter(({ at }) => at >= 0)
    .sort((a, b) => a.at - b.at);
  const pieces: Piece[] = [];
  let from = 0;
  for (const { term, at, length } of found) {
    if (at < from) continue;
    pieces.push({ text: text.slice(from, at) }, { text: text.slice(at, at + length), term });
    from = at + length;
  }
  return [...pieces, { text: text.slice(from) }].filter((piece) => piece.text !== '');
}
