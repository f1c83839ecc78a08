import { useState } from 'preact/hooks';
import { Button, Form, Segments, SelectField, TextField, useSave } from '../../ui';
import type { Typed } from '../../ui/figures';
import { MeasuredPicture } from '../../ui/pictures/measured-picture';
import { placeDrawings, placeWords } from '../../ui/pictures/places';
import { lengths, type PlaceMeasured, type Visit } from '../../lib/model.gen';
import { writeVisit } from '../../lib/visit-writer';
import { kindOf, placeFormOf, placeKinds, readPlace } from './place-form';

/** Adds a place, or changes the figures of one. */
export function PlaceFields(props: {
  readonly visit: Visit;
  readonly id: string;
  readonly place?: PlaceMeasured | undefined;
  readonly label: string;
  /** Called when it is on disk. */
  readonly onSaved?: (() => void) | undefined;
}) {
  const [form, setForm] = useState(() => placeFormOf(props.place));
  const [errors, setErrors] = useState<Typed>({});
  const saver = useSave();
  const kind = kindOf(form.kind);
  const save = async () => {
    if (saver.busy()) return;
    const read = readPlace(form, props.id);
    setErrors('errors' in read ? read.errors : {});
    if ('errors' in read) return;
    if (await saver.save(read.place.name, () => writeVisit(props.visit, 'place-measured', read.place))) props.onSaved?.();
  };
  return (
    <Form onSave={save} errors={errors} state={saver.state}>
      <div class="grid-fields">
        <SelectField
          label="Kind of place"
          value={form.kind}
          options={placeKinds.map((one) => ({ value: one.id, label: one.label }))}
          onChange={(chosen) => {
            setForm({ ...form, kind: chosen });
            setErrors({});
          }}
        />
        <TextField
          label="Name"
          hint="For example: bathroom door."
          value={form.name}
          maxLength={lengths['place-measured'].name}
          onInput={(name) => setForm({ ...form, name })}
        />
        <TextField
          label="What it leads to"
          hint="For example: the bath. Blank when it is plain."
          value={form.leadsTo}
          maxLength={lengths['place-measured'].leads_to}
          onInput={(leadsTo) => setForm({ ...form, leadsTo })}
        />
      </div>
      {kind ? (
        <MeasuredPicture
          key={kind.id}
          drawn={placeDrawings[kind.id]}
          words={placeWords[kind.id]}
          fields={kind.fields}
          typed={form.figures}
          errors={errors}
          onChange={(figures) => setForm({ ...form, figures })}
        />
      ) : null}
      <Segments
        legend="Does the person need this way?"
        value={form.needed ? 'yes' : 'no'}
        options={[
          { value: 'yes', label: 'Yes' },
          { value: 'no', label: 'No, it can be left out' },
        ]}
        onChange={(needed) => setForm({ ...form, needed: needed === 'yes' })}
      />
      <div class="actions">
        <Button type="submit" kind="main" size="big">
          {props.label}
        </Button>
      </div>
    </Form>
  );
}
