/** Each kind of control in a few strokes. */
import type { ComponentChildren } from 'preact';
import type { ControlClass } from '../../lib/model.gen';

interface Drawn {
  readonly box: string;
  readonly lines: ComponentChildren;
}

const drawings: Readonly<Record<ControlClass, Drawn>> = {
  standard: {
    box: '0 0 96 96',
    lines: (
      <>
        <path class="p-pale" d="M14 62H82L76 84H20Z" />
        <path class="p-accent" d="M32 62Q34 50 48 50T64 62Z" />
        <path class="p-line p-bold" d="M48 50V30" />
        <circle class="p-dark" cx="48" cy="22" r="11" />
      </>
    ),
  },
  small: {
    box: '7 16 82 82',
    lines: (
      <>
        <path class="p-pale" d="M24 66H72L68 82H28Z" />
        <path class="p-accent" d="M38 66Q40 58 48 58T58 66Z" />
        <path class="p-line" d="M48 58V44" />
        <circle class="p-dark" cx="48" cy="39" r="6" />
      </>
    ),
  },
  'very-light': {
    box: '12 24 72 72',
    lines: (
      <>
        <path class="p-pale" d="M32 70H64V82H32Z" />
        <path class="p-thin" d="M48 70V58" />
        <circle class="p-dark" cx="48" cy="55" r="3.4" />
        <path class="p-thin" d="M40 50q8-7 16 0M35 44q13-11 26 0" />
      </>
    ),
  },
  'force-sensing': {
    box: '0 0 96 96',
    lines: (
      <>
        <path class="p-pale" d="M14 66H82L76 84H20Z" />
        <rect class="p-accent" x="40" y="26" width="16" height="40" rx="5" />
        <path class="p-line" d="M8 46H28M22 40l7 6-7 6M88 46H68M74 40l-7 6 7 6" />
        <path class="p-line" d="M34 66h28" />
      </>
    ),
  },
  switched: {
    box: '0 0 96 96',
    lines: (
      <>
        <rect class="p-pale" x="8" y="44" width="36" height="36" rx="9" />
        <rect class="p-pale" x="52" y="44" width="36" height="36" rx="9" />
        <circle class="p-accent" cx="26" cy="62" r="11" />
        <circle class="p-accent" cx="70" cy="62" r="11" />
        <path class="p-line" d="M26 20V38M20 32l6 7 6-7" />
      </>
    ),
  },
  breath: {
    box: '0 0 96 96',
    lines: (
      <>
        <path class="p-skin" d="M10 18Q34 16 36 36L42 46Q42 50 36 50Q38 54 35 56Q38 60 35 64Q36 72 26 72H10Z" />
        <path class="p-line p-bold" d="M39 57H58Q66 57 66 65V88" />
        <path class="p-thin" d="M48 46q6 4 12 0t12 0t12 0M52 36q5 4 10 0t10 0t10 0" />
      </>
    ),
  },
  scanning: {
    box: '0 0 96 96',
    lines: (
      <>
        <rect class="p-pale" x="8" y="20" width="80" height="26" rx="6" />
        <circle class="p-skin" cx="22" cy="33" r="6" />
        <circle class="p-dark" cx="40" cy="33" r="6" />
        <circle class="p-skin" cx="58" cy="33" r="6" />
        <circle class="p-skin" cx="75" cy="33" r="6" />
        <rect class="p-pale" x="28" y="62" width="40" height="22" rx="8" />
        <path class="p-accent" d="M36 62Q38 54 48 54T60 62Z" />
      </>
    ),
  },
  attendant: {
    box: '0 0 96 96',
    lines: (
      <>
        <path class="p-line p-bold" d="M14 88V40Q14 30 24 30H40" />
        <path class="p-line p-bold" d="M82 88V40Q82 30 72 30H62" />
        <rect class="p-pale" x="34" y="28" width="34" height="26" rx="6" />
        <path class="p-line" d="M51 28V16" />
        <circle class="p-dark" cx="51" cy="12" r="6" />
        <path class="p-thin" d="M40 44h22" />
      </>
    ),
  },
  'non-contact': {
    box: '0 0 96 96',
    lines: (
      <>
        <circle class="p-skin" cx="48" cy="52" r="20" />
        <path class="p-line" d="M48 29l-4-6h8z" />
        <path class="p-line p-dashed" d="M16 30Q6 52 16 74M80 30Q90 52 80 74M30 88Q48 94 66 88" />
        <circle class="p-dark" cx="41" cy="50" r="2" />
        <circle class="p-dark" cx="55" cy="50" r="2" />
      </>
    ),
  },
};

/** A kind of control as a picture beside its name; nothing for a kind of a later version. */
export function ControlPicture(props: { readonly kind: string; readonly size?: 'small' | 'large' | undefined }) {
  const drawn = drawings[props.kind as ControlClass] as Drawn | undefined;
  if (drawn === undefined) return null;
  return (
    <svg
      class={`picture control-picture control-picture-${props.size ?? 'small'}`}
      viewBox={drawn.box}
      aria-hidden="true"
      focusable="false"
    >
      {drawn.lines}
    </svg>
  );
}
