/** The kinds of control, as forms and results name them. */
import type { ControlClass } from '../lib/model.gen';
import { plainWords } from './words';

/** A control class by kind. What it usually asks for is in the engine's limits. */
export interface ClassFacts {
  readonly id: ControlClass;
  readonly label: string;
  readonly text: string;
}

export const classes: readonly ClassFacts[] = [
  { id: 'standard', label: 'Standard stick', text: 'Hand; rugged.' },
  { id: 'small', label: 'Small stick', text: 'Read the travel off the control. Chin, weak hand, foot.' },
  { id: 'very-light', label: 'Very light stick', text: 'Finger, thumb.' },
  { id: 'force-sensing', label: 'Force-sensing stick', text: 'Hardly moves; the force is set.' },
  { id: 'switched', label: 'Switches or head pads', text: 'One to four switches, also without touch. Not graded.' },
  { id: 'breath', label: 'Breath control', text: 'Worked by sipping and puffing.' },
  { id: 'scanning', label: 'One switch with scanning', text: 'Slow; stopping must be certain.' },
  { id: 'attendant', label: 'Attendant control', text: 'A helper drives. Often as heavy as a standard stick, or heavier.' },
  { id: 'non-contact', label: 'Control without touch', text: 'Head, tongue or eye.' },
];

/** A control class as it begins a line; an id from a later version is shown plainly. */
export function classLabel(id: string): string {
  return classes.find((one) => one.id === id)?.label ?? plainWords(id);
}

/** A control class within a sentence or a list. */
export function classWords(id: string): string {
  return classLabel(id).toLowerCase();
}
