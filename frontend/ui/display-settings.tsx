import { Segments } from './choice';
import { changeDisplay, choiceOf, display, displayChoices, type Display, type DisplayPart } from './display';

/** What each theme is called. */
export const themeLabels: Readonly<Record<Display['theme'], string>> = {
  system: 'As the tablet',
  paper: 'Light',
  dark: 'Dark',
  outdoor: 'Outdoors, black on white',
};

/** What each choice is called. */
const labels: { readonly [Part in DisplayPart]: Readonly<Record<Display[Part], string>> } = {
  theme: themeLabels,
  hand: { left: 'Left thumb', right: 'Right thumb' },
  text: { '100': '100 %', '125': '125 %', '150': '150 %', '200': '200 %' },
  sound: { on: 'On', off: 'Off' },
  pause: { keep: 'Keeps it', wait: 'Waits for the key' },
  boxes: { row: 'Boxes in a row', one: 'One large number' },
};

function Part<P extends DisplayPart>(props: { readonly part: P; readonly legend: string }) {
  const { part } = props;
  return (
    <Segments
      legend={props.legend}
      value={display.value[part]}
      options={displayChoices[part].map((value) => ({ value, label: labels[part][value] }))}
      onChange={(value) => changeDisplay({ [part]: choiceOf(part, value) })}
    />
  );
}

/** How the number pad works. */
export function PadSettings() {
  return (
    <div class="stack">
      <Part part="pause" legend="A pause after a whole number that is like the others" />
      <Part part="boxes" legend="The set while it is taken" />
    </div>
  );
}

/** Theme, hand, text size, sound and the number pad. */
export function DisplaySettings() {
  return (
    <div class="stack">
      <Part part="theme" legend="Theme" />
      <Part part="hand" legend="Buttons within reach of" />
      <Part part="text" legend="Text size" />
      <Part part="sound" legend="Sound and buzz when counting" />
      <PadSettings />
    </div>
  );
}
