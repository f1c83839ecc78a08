import { useState } from 'preact/hooks';
import { AtOnceForm, More, Segments, isBegun, useAtOnce, useDraft } from '../../ui';
import type { Typed } from '../../ui/figures';
import { useLimits, type Limits } from '../../ui/limits';
import { chairAbove, chairAboveWords, chairSide, chairSideWords } from '../../ui/pictures/chair-measures';
import { MeasuredPicture } from '../../ui/pictures/measured-picture';
import type { Visit } from '../../lib/model.gen';
import { writeVisit } from '../../lib/visit-writer';
import { chairFields, chairFormOf, chairWords, drives, openInChair, readChair } from './chair-form';

function ChairFields(props: { readonly visit: Visit; readonly limits: Limits }) {
  const { visit } = props;
  const stored = chairFormOf(visit.chair, props.limits.get('passage-clearance'));
  const draft = useDraft({ about: visit.id, name: 'chair', title: 'The chair' }, stored);
  const form = draft.value;
  const once = useAtOnce({
    title: 'the chair',
    draft,
    open: openInChair,
    read: (typed) => {
      const read = readChair(typed);
      return 'errors' in read ? read : { body: read.chair };
    },
    write: (body) => writeVisit(visit, 'chair-measured', body),
  });
  const { errors } = once;
  const typing = {
    fields: chairFields,
    typed: form.figures,
    errors,
    onChange: (figures: Typed) => draft.set((now) => ({ ...now, figures })),
  };
  return (
    <AtOnceForm form={once} draft={draft}>
      <MeasuredPicture drawn={chairAbove} words={chairAboveWords} {...typing} />
      <MeasuredPicture drawn={chairSide} words={chairSideWords} {...typing} />
      <Segments
        legend="Drive wheels"
        big
        value={form.drive}
        error={errors.drive}
        options={drives}
        onChange={(drive) => draft.set((now) => ({ ...now, drive }))}
      />
    </AtOnceForm>
  );
}

/** The chair's outline with control and hands: what every passage is judged with. */
export function ChairPart(props: { readonly visit: Visit; readonly may: boolean }) {
  const { chair } = props.visit;
  const limits = useLimits();
  const [open] = useState(() => chair === undefined || isBegun(props.visit.id, 'chair'));
  return (
    <section aria-labelledby="chair">
      <h2 id="chair">The chair</h2>
      <p>{chair ? chairWords(chair) : 'Not measured yet. Measure it with the person seated, the control fitted and the hands in place.'}</p>
      {props.may && limits ? (
        <More summary={chair ? 'Measure again' : 'Measure the chair'} open={open}>
          <ChairFields visit={props.visit} limits={limits} />
        </More>
      ) : null}
    </section>
  );
}
