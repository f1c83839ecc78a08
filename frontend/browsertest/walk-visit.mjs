// @ts-check
// What is found in the visit of the walk: invented, typical, and the same however it
// is entered. What the visit must hold in the end is in testdata/walk/visit.json.

export const client = 'Sedge Conway';
export const control = 'Short grey stick';
export const site = 'right hand';

export const notes = {
  'Who was present': 'Sedge Conway; a sister',
  Consent: 'spoken, by the client, to everything today',
  'Who holds the stop': 'the therapist',
  'Goals, in the client’s own words': 'To the table and to the door by myself.',
};

/** @type {readonly (readonly [string, readonly string[]])[]} */
export const rested = [
  ['Forward', ['540', '560', '550']],
  ['Reverse', ['410', '420', '415']],
  ['Left', ['480', '470', '475']],
  ['Right', ['450', '455', '445']],
];
export const tired = { direction: 'Reverse', values: ['320', '330'] };
/** @type {readonly (readonly [string, string])[]} */
export const travel = [
  ['Forward', '32'],
  ['Reverse', '28'],
  ['Left', '30'],
  ['Right', '29'],
];
export const releases = 5;
/** @type {readonly (readonly [string, string])[]} */
export const unintended = [
  ['At rest, 60 s', '4'],
  ['Talking, 60 s', '6'],
  ['Ten bumps', '9'],
];
export const switchForce = ['210', '205', '215'];

/** The parts of the checklist, in its order. */
export const parts = [
  'Positioning',
  'Control access at the chosen site',
  'Switches and mounting',
  'Safety and judgement',
  'Vision, perception and communication',
  'Driving trial: indoors and doorways',
  'Driving trial: ramps, outdoors and crowds',
  'Home access',
  'Equipment and charging',
  'Hand-over and training',
];

/** Answers that are not the best one; of numbers all. @type {Readonly<Record<string, string | readonly [string, string]>>} */
export const answers = {
  'pos-spasm': '2',
  'pos-range': '2',
  'ctl-choose': '11',
  'ctl-pain': '2',
  'ctl-grade': '3',
  'mnt-mode': '3',
  'mnt-repeat': '2',
  'mnt-clear': '6',
  'saf-hazard': '5',
  'saf-look': '3',
  'per-sides': ['5', '4'],
  'ind-straight': '1',
  'ind-turn': '3',
  'ind-back': '2',
  'ind-dock': '3',
  'out-camber': '3',
  'out-crowd': '2',
  'hom-door': '120',
  'hom-sill': '15',
  'hom-ramp': '14',
  'eqp-battery': '80',
  'hnd-teach': '4',
};
/** How many items were measured at the mounting and in the home. */
export const together = 3;
/** Side questions that are asked in this visit, each answered no. */
export const asked = ['mnt-clear', 'hom-ramp', 'mnt-swforce'];

/** @type {readonly { readonly where: string, readonly state: string, readonly minutes: number, readonly metres: string, readonly counts: readonly string[] }[]} */
export const runs = [
  { where: 'Indoors', state: 'Rested', minutes: 10, metres: '86', counts: ['Thing touched', 'Prompt', 'Prompt', 'Prompt'] },
  { where: 'Indoors', state: 'Tired', minutes: 8, metres: '60', counts: ['Thing touched', 'Prompt'] },
  { where: 'Rough ground', state: 'Rested', minutes: 2, metres: '24', counts: ['Command not meant'] },
];

export const chair = {
  'Length (mm)': '1120',
  'Width (mm)': '640',
  'Drive axle to foremost point (mm)': '580',
  'Slope limit of this chair (degrees)': '8',
};
/** @type {readonly { readonly name: string, readonly figures: Readonly<Record<string, string>> }[]} */
export const places = [
  { name: 'bathroom door', figures: { 'Clear width (mm)': '760' } },
  { name: 'corner in the hall', figures: { 'Corridor driven in (mm)': '1000', 'Corridor driven out (mm)': '950' } },
  { name: 'garden ramp', figures: { 'Rise (mm)': '100', 'Run (mm)': '1400', 'Clear width (mm)': '900' } },
];

export const mount = {
  kind: 'Swing-away arm',
  fixedTo: 'armrest',
  figures: { 'A. Forward': '430', 'B. Up': '250', 'C. To the right': '-40', 'Time to clear': '6' },
  gap: '10',
  checks: ['Comes back to a stop by itself', 'Tried after a transfer', 'Nothing collides'],
};

export const next = { recheck: '2030-03-01', note: 'Lower the bathroom sill: the landlord, by May.' };

/** Words that a label begins with, as a pattern. @param {string} label */
export const beginning = (label) => new RegExp(`^${label.replace(/[.()]/g, '\\$&')}`);
