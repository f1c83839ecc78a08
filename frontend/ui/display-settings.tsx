import { Segments } from './choice';
import { changeDisplay, display, oneOf, usual } from './display';

/** Theme, hand, text size and sound. */
export function DisplaySettings() {
  const now = display.value;
  return (
    <div class="stack">
      <Segments
        legend="Light"
        value={now.theme}
        options={[
          { value: 'paper', label: 'Indoors' },
          { value: 'outdoor', label: 'Outdoors, black on white' },
        ]}
        onChange={(value) => changeDisplay({ theme: oneOf(value, ['paper', 'outdoor'], usual.theme) })}
      />
      <Segments
        legend="Buttons within reach of"
        value={now.hand}
        options={[
          { value: 'left', label: 'Left thumb' },
          { value: 'right', label: 'Right thumb' },
        ]}
        onChange={(value) => changeDisplay({ hand: oneOf(value, ['right', 'left'], usual.hand) })}
      />
      <Segments
        legend="Text size"
        value={now.text}
        options={['100', '125', '150', '200'].map((size) => ({ value: size, label: `${size} %` }))}
        onChange={(value) => changeDisplay({ text: oneOf(value, ['100', '125', '150', '200'], usual.text) })}
      />
      <Segments
        legend="Sound and buzz when counting"
        value={now.sound}
        options={[
          { value: 'on', label: 'On' },
          { value: 'off', label: 'Off' },
        ]}
        onChange={(value) => changeDisplay({ sound: oneOf(value, ['on', 'off'], usual.sound) })}
      />
    </div>
  );
}
