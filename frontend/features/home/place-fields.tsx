import { AtOnceForm, Button, Form, Segments, SelectField, TextField, useAtOnce, useDraft, useSave, type Draft } from '../../ui';
import { useState } from 'preact/hooks';
import type { Typed } from '../../ui/figures';
import { MeasuredPicture } from '../../ui/pictures/measured-picture';
import { placeDrawings, placeWords } from '../../ui/pictures/places';
import { lengths, type PlaceMeasured, type Visit } from '../../lib/model.gen';
import { writeVisit } from '../../lib/visit-writer';
import { kindOf, openInPlace, placeFormOf, placeKinds, readPlace, usualPlaces, type PlaceForm } from './place-form';

/** The fields of a place, new or not. */
function PlaceInputs(props: { readonly draft: Draft<PlaceForm>; readonly errors: Typed; readonly onKind?: (() => void) | undefined }) {
  const { draft, errors } = props;
  const form = draft.value;
  const change = (part: Partial<PlaceForm>) => draft.set((now) => ({ ...now, ...part }));
  const kind = kindOf(form.kind);
  const untouched = form.name === '' && form.kind === placeFormOf(undefined).kind;
  return (
    <>
      {untouched ? (
        <span class="suggestions" role="group" aria-label="Places that most homes have">
          {usualPlaces.map((one) => (
            <button key={one.name} type="button" class="suggestion" onClick={() => change(one)}>
              {one.name}
            </button>
          ))}
        </span>
      ) : null}
      <div class="grid-fields">
        <SelectField
          label="Kind of place"
          value={form.kind}
          options={placeKinds.map((one) => ({ value: one.id, label: one.label }))}
          onChange={(chosen) => {
            change({ kind: chosen });
            props.onKind?.();
          }}
        />
        <TextField
          label="Name"
          hint="For example: bathroom door."
          value={form.name}
          suggestions={untouched ? undefined : kind?.names}
          maxLength={lengths['place-measured'].name}
          onInput={(name) => change({ name })}
        />
        <TextField
          label="What it leads to"
          hint="For example: the bath. Blank when it is plain."
          value={form.leadsTo}
          maxLength={lengths['place-measured'].leads_to}
          onInput={(leadsTo) => change({ leadsTo })}
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
          onChange={(figures) => change({ figures })}
        />
      ) : null}
      <Segments
        legend="Does the person need this way?"
        value={form.needed ? 'yes' : 'no'}
        options={[
          { value: 'yes', label: 'Yes' },
          { value: 'no', label: 'No, it can be left out' },
        ]}
        onChange={(needed) => change({ needed: needed === 'yes' })}
      />
    </>
  );
}

/** A new place: kind, name and figures make one together. */
export function NewPlace(props: {
  readonly visit: Visit;
  readonly draft: Draft<PlaceForm>;
  readonly id: string;
  readonly onSaved: () => void;
}) {
  const { draft } = props;
  const [errors, setErrors] = useState<Typed>({});
  const saver = useSave();
  const save = async () => {
    if (saver.busy()) return;
    const read = readPlace(draft.now(), props.id);
    setErrors('errors' in read ? read.errors : {});
    if ('errors' in read) return;
    if (!(await saver.save(read.place.name, () => writeVisit(props.visit, 'place-measured', read.place)))) return;
    draft.drop();
    props.onSaved();
  };
  return (
    <Form onSave={save} errors={errors} draft={draft} state={saver.state}>
      <PlaceInputs draft={draft} errors={errors} onKind={() => setErrors({})} />
      <div class="actions">
        <Button type="submit" kind="main" size="big">
          Add this place
        </Button>
      </div>
    </Form>
  );
}

/** Changes a place that there is; each change is saved by itself. */
export function PlaceFields(props: { readonly visit: Visit; readonly place: PlaceMeasured }) {
  const { visit, place } = props;
  const draft = useDraft({ about: visit.id, name: `place ${place.place}`, title: place.name }, placeFormOf(place));
  const once = useAtOnce({
    title: place.name,
    draft,
    open: openInPlace,
    read: (form) => {
      const read = readPlace(form, place.place);
      return 'errors' in read ? read : { body: read.place };
    },
    write: (body) => writeVisit(visit, 'place-measured', body),
  });
  return (
    <AtOnceForm form={once} draft={draft}>
      <PlaceInputs draft={draft} errors={once.errors} />
    </AtOnceForm>
  );
}
