import { useState } from 'preact/hooks';
import { Button, Form, More, Segments, useSave } from '../../ui';
import type { Typed } from '../../ui/figures';
import { useLimits, type Limits } from '../../ui/limits';
import { chairAbove, chairAboveWords, chairSide, chairSideWords } from '../../ui/pictures/chair-measures';
import { MeasuredPicture } from '../../ui/pictures/measured-picture';
import type { Visit } from '../../lib/model.gen';
import { writeVisit } from '../../lib/visit-writer';
import { chairFields, chairFormOf, chairWords, drives, readChair } from './chair-form';

function ChairFields(props: { readonly visit: Visit; readonly limits: Limits }) {
  const { visit } = props;
  const [form, setForm] = useState(() => chairFormOf(visit.chair, props.limits.get('passage-clearance')));
  const [errors, setErrors] = useState<Typed>({});
  const saver = useSave();
  const save = async () => {
    const read = readChair(form);
    setErrors('errors' in read ? read.errors : {});
    if (!('errors' in read)) await saver.save('the chair', () => writeVisit(visit, 'chair-measured', read.chair));
  };
  const typing = { fields: chairFields, typed: form.figures, errors, onChange: (figures: Typed) => setForm({ ...form, figures }) };
  return (
    <Form onSave={save} errors={errors} state={saver.state}>
      <MeasuredPicture drawn={chairAbove} words={chairAboveWords} {...typing} />
      <MeasuredPicture drawn={chairSide} words={chairSideWords} {...typing} />
      <Segments
        legend="Drive wheels"
        big
        value={form.drive}
        error={errors.drive}
        options={drives}
        onChange={(drive) => setForm({ ...form, drive })}
      />
      <div class="actions">
        <Button type="submit" kind="main" size="big">
          Save the chair
        </Button>
      </div>
    </Form>
  );
}

/** The chair's outline with control and hands: what every passage is judged with. */
export function ChairPart(props: { readonly visit: Visit; readonly may: boolean }) {
  const { chair } = props.visit;
  const limits = useLimits();
  return (
    <section aria-labelledby="chair">
      <h2 id="chair">The chair</h2>
      <p>{chair ? chairWords(chair) : 'Not measured yet. Measure it with the person seated, the control fitted and the hands in place.'}</p>
      {props.may && limits ? (
        <More summary={chair ? 'Measure again' : 'Measure the chair'} open={chair === undefined}>
          <ChairFields visit={props.visit} limits={limits} />
        </More>
      ) : null}
    </section>
  );
}
