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

/** Theme, hand, text size and sound. */
export function DisplaySettings() {
  return (
    <div class="stack">
      <Part part="theme" legend="Theme" />
      <Part part="hand" legend="Buttons within reach of" />
      <Part part="text" legend="Text size" />
      <Part part="sound" legend="Sound and buzz when counting" />
    </div>
  );
}
