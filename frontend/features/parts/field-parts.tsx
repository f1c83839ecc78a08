import { useState } from 'preact/hooks';
import { AreaField, CheckField, ChoiceRows, Segments, SelectField, TextField } from '../../ui';
import { Shelf } from './shelf';

const help = [
  { value: '4', label: '4', text: 'Alone: safe, first try' },
  { value: '3', label: '3', text: 'Slow: safe, but slow' },
  { value: '2', label: '2', text: 'Words: a cue, nobody touches' },
];
const places = [
  { value: 'indoors', label: 'Indoors' },
  { value: 'outdoors', label: 'Outdoors' },
  { value: 'rough', label: 'Rough ground' },
];

/** What is filled in; every field keeps what is put into it. */
export function FieldParts() {
  const [text, setText] = useState('Grey stick');
  const [note, setNote] = useState('');
  const [level, setLevel] = useState('3');
  const [place, setPlace] = useState('indoors');
  const [held, setHeld] = useState(true);
  return (
    <>
      <Shelf title="Fields">
        <TextField label="Name" value={text} onInput={setText} hint="As it stands on the control." />
        <TextField label="Force" value="-3" onInput={setText} error="Expected 0 to 5,000 gf, got -3." />
        <AreaField label="Note" value={note} onInput={setNote} />
        <SelectField label="Where" value={place} options={places} onChange={setPlace} />
        <CheckField label="The forearm is held up" checked={held} onChange={setHeld} hint="Support can add force." />
      </Shelf>
      <Shelf title="Choices">
        <ChoiceRows legend="How much help" value={level} options={help} onChange={setLevel} />
        <ChoiceRows legend="Nothing chosen yet" value="" options={help} onChange={setLevel} error="Expected one of three, got none." />
        <ChoiceRows legend="Not to be changed" value="2" options={help} onChange={setLevel} disabled />
        <Segments legend="Where" value={place} options={places} onChange={setPlace} />
        <Segments legend="Where, big" value={place} options={places} onChange={setPlace} big />
        <Segments legend="Where, not to be changed" value="rough" options={places} onChange={setPlace} disabled />
      </Shelf>
    </>
  );
}
