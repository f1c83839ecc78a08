/** The words for controls, mounts and needs. */
import { classLabel } from '../../ui/control-classes';
import { mountKinds, type MountKind, type PackedControl } from '../../lib/model.gen';

const GENERIC = 'class:';

/** The id under which results speak of a generic class. */
export function genericId(classId: string): string {
  return GENERIC + classId;
}

export function isGeneric(control: string): boolean {
  return control.startsWith(GENERIC);
}

/** The name of a control in a result: the team's own, or the kind in general. */
export function controlName(control: string, kit: readonly PackedControl[]): string {
  if (isGeneric(control)) return `${classLabel(control.slice(GENERIC.length))}, in general`;
  return kit.find((one) => one.id === control)?.name ?? 'A control that is no longer packed';
}

const MOUNT_WORDS: Readonly<Record<MountKind, string>> = {
  fixed: 'fixed',
  'swing-away': 'swings away',
  gooseneck: 'gooseneck',
  tray: 'on a tray',
  midline: 'midline',
  'behind-head': 'behind the head',
  glove: 'on a glove or splint',
};

/** A kind of mount in words; an id from a later version is shown as it is. */
export function mountWords(id: string): string {
  const known = mountKinds.find((one) => one === id);
  return known ? MOUNT_WORDS[known] : id;
}

/** A second digit of the code, what it keeps out; the code's own order, not our judgement. */
const SEALED: readonly string[] = [
  'no protection against water',
  'dripping water',
  'dripping water, tilted',
  'spraying water',
  'splashing water',
  'water jets',
  'strong water jets',
  'short immersion',
  'immersion',
  'hot water jets',
];

/** The sealing in words: "IP54, splashing water". */
export function sealingWords(code: string | undefined): string {
  if (!code) return 'not known or not sealed';
  const words = SEALED[Number(code[3])];
  return words === undefined ? code : `${code}, ${words}`;
}

export function yesNo(on: boolean | undefined): string {
  return on ? 'yes' : 'no';
}
