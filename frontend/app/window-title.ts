/**
 * The window's title by address. Browsers write each title into their history,
 * in clear: so a title is one of these constants, and never what a client, a
 * place or a control is called.
 */
import { partsOf } from '../ui/address';

export const windowTitles = {
  '/': 'Today',
  '/sign-in': 'Sign in',
  '/clients/new': 'New client',
  '/clients/:id': 'Client',
  '/clients/:id/visit': 'Start a visit',
  '/clients/:id/over-time': 'Over time',
  '/visits/:id': 'Visit map',
  '/visits/:id/part/:code': 'Part of the checklist',
  '/visits/:id/measure/:what': 'Measuring',
  '/visits/:id/trial': 'Driving trial',
  '/visits/:id/setup': 'Control and place',
  '/visits/:id/notes': 'Visit notes',
  '/visits/:id/missing': 'What is missing',
  '/visits/:id/level': 'Level',
  '/visits/:id/needs': 'Needs',
  '/visits/:id/controls': 'Controls',
  '/visits/:id/strain': 'Strain',
  '/visits/:id/home': 'Home',
  '/visits/:id/home/:place': 'Place',
  '/visits/:id/settings': 'Settings of the chair',
  '/visits/:id/mount': 'Mounting',
  '/visits/:id/sign': 'Sign',
  '/caseload': 'Caseload',
  '/agreement': 'Agreement',
  '/kit': 'Kit',
  '/kit/:id': 'Control',
  '/sync': 'This tablet',
  '/people': 'People and account',
  '/about': 'About and cautions',
  '/parts': 'Parts',
} as const;

export type Pattern = keyof typeof windowTitles;
export const patterns = Object.keys(windowTitles) as readonly Pattern[];

/** Names the window after the screen at a path. */
export function nameWindow(path: string): void {
  const pattern = patterns.find((one) => partsOf(one, path) !== null);
  document.title = pattern === undefined ? 'Doorsill' : `${windowTitles[pattern]} – Doorsill`;
}
