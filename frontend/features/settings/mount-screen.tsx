import {
  AreaField,
  AtOnceForm,
  Banner,
  Button,
  CheckGroup,
  Segments,
  numberWords,
  readNumber,
  timeWords,
  useAtOnce,
  useDraft,
} from '../../ui';
import { FigureInputs } from '../../ui/figure-inputs';
import type { FigureField, Typed } from '../../ui/figures';
import { mountDrawn, mountWords } from '../../ui/pictures/chair-measures';
import { MeasuredPicture, PlainPicture } from '../../ui/pictures/measured-picture';
import { VisitFrame, NextLinks } from '../../ui/visit/frame';
import { links } from '../../ui/visit/links';
import type { VisitView } from '../../lib';
import { lengths, type Mount, type Visit } from '../../lib/model.gen';
import { isOpen, mayWrite, roleIn, writeVisit } from '../../lib/visit-writer';
import {
  CLEARING,
  angleFields,
  checkWords,
  clearingTimed,
  fixedToWords,
  gapFields,
  mountChecks,
  mountFormOf,
  mountKindWords,
  openInMount,
  placeFields,
  readMount,
  sheetWords,
  type MountForm,
} from './mount-form';

function numberOf(figures: Typed, key: string): number {
  const read = readNumber(figures[key] ?? '', 0, true);
  return read.kind === 'number' ? read.value : NaN;
}

function MountFields(props: { readonly view: VisitView }) {
  const { visit } = props.view;
  const draft = useDraft({ about: visit.id, name: 'mount', title: 'The mounting' }, mountFormOf(visit.mount));
  const form = draft.value;
  const once = useAtOnce({
    title: 'the mounting',
    draft,
    open: openInMount,
    read: (typed) => {
      const read = readMount(typed);
      return 'errors' in read ? read : { body: read.mount };
    },
    write: (body) => writeVisit(visit, 'mount-noted', body),
  });
  const { errors } = once;
  const set = (part: Partial<MountForm>) => draft.set((now) => ({ ...now, ...part }));
  const figures = (fields: readonly FigureField[]) => (
    <FigureInputs fields={fields} typed={form.figures} errors={errors} onChange={(typed) => set({ figures: typed })} />
  );
  const at = {
    forward: numberOf(form.figures, 'forward_mm'),
    up: numberOf(form.figures, 'up_mm'),
    side: numberOf(form.figures, 'side_mm'),
  };
  return (
    <AtOnceForm class="screen-only" form={once} draft={draft}>
      <Segments
        legend="Kind of mount"
        big
        value={form.kind}
        error={errors.kind}
        options={mountKindWords}
        onChange={(kind) => set({ kind })}
      />
      <Segments
        legend="Fixed to"
        big
        value={form.fixedTo}
        error={errors.fixed_to}
        options={fixedToWords}
        onChange={(fixedTo) => set({ fixedTo })}
      />
      <p class="field-hint">Fix it to the part that moves with the body.</p>
      <h2>Centre of the control, from three points</h2>
      <MeasuredPicture
        drawn={mountDrawn(at)}
        words={mountWords}
        fields={placeFields}
        typed={form.figures}
        errors={errors}
        onChange={(typed) => set({ figures: typed })}
      />
      <p class="field-hint">
        The left drawing is from the side, the right one as the driver sees it. The ring is drawn to scale once its size is typed.
      </p>
      <h2>Angles of the knob</h2>
      {figures(angleFields)}
      <h2>Gap and way out</h2>
      {figures(gapFields)}
      <TimedClearing visit={visit} />
      <CheckGroup
        legend="Checked today"
        options={mountChecks.map((value) => ({ value, label: checkWords[value] }))}
        checked={(check) => form.checks[check as keyof MountForm['checks']]}
        onChange={(check, on) => set({ checks: { ...form.checks, [check]: on } })}
      />
      <AreaField
        label="Note"
        hint="For example: torque of the screws, path of the cable."
        value={form.note}
        maxLength={lengths['mount-noted'].note}
        onInput={(note) => set({ note })}
      />
    </AtOnceForm>
  );
}

function labelOf(words: readonly { readonly value: string; readonly label: string }[], value: string): string {
  return words.find((one) => one.value === value)?.label ?? value;
}

/** How long clearing took where it was timed at the question of the checklist, with the way there. */
function TimedClearing(props: { readonly visit: Visit }) {
  const { visit } = props;
  const timed = clearingTimed(visit);
  if (timed === undefined) return null;
  return (
    <p class="field-hint">
      Clearing was timed at <a href={links.item(visit.id, 'mnt', CLEARING)}>its question</a>: {numberWords(timed)} s. The sheet shows it
      too.
    </p>
  );
}

/** What is saved, as a sheet to print and take to the workshop. */
function MountSheet(props: { readonly visit: Visit; readonly mount: Mount }) {
  const { visit, mount } = props;
  const timed = clearingTimed(visit);
  const figures = [...placeFields, ...angleFields, ...gapFields].map((field) => [field.label, sheetWords(field, mount, timed)] as const);
  return (
    <section aria-labelledby="sheet">
      <h2 id="sheet">Mounting sheet</h2>
      <table class="table mount-sheet">
        <caption>As saved {timeWords(mount.at)}</caption>
        <tbody>
          <tr>
            <th scope="row">Kind of mount</th>
            <td>{labelOf(mountKindWords, mount.kind)}</td>
          </tr>
          <tr>
            <th scope="row">Fixed to</th>
            <td>{labelOf(fixedToWords, mount.fixed_to)}</td>
          </tr>
          {figures.map(([label, value]) => (
            <tr key={label}>
              <th scope="row">{label}</th>
              <td>{value}</td>
            </tr>
          ))}
          {mountChecks.map((check) => (
            <tr key={check}>
              <th scope="row">{checkWords[check]}</th>
              <td>{mount[check] ? '☑ yes' : '☐ not shown'}</td>
            </tr>
          ))}
          {mount.note ? (
            <tr>
              <th scope="row">Note</th>
              <td>{mount.note}</td>
            </tr>
          ) : null}
        </tbody>
      </table>
      <div class="print-only">
        <PlainPicture drawn={mountDrawn({ forward: mount.forward_mm, up: mount.up_mm, side: mount.side_mm })} words={mountWords} />
      </div>
      <div class="actions screen-only">
        <Button onPress={() => window.print()}>Print the sheet</Button>
      </div>
    </section>
  );
}

/** Where and how the control is mounted, so that it can be put back there. */
export function MountScreen(props: { readonly id: string }) {
  return (
    <VisitFrame id={props.id} title="Mounting" wide>
      {(view) => {
        const may = mayWrite(roleIn(view.visit.team), 'mount-noted');
        return (
          <>
            {may ? null : <Banner tone="note">A clinician notes the mounting.</Banner>}
            {may && isOpen(view.visit) ? <MountFields view={view} /> : null}
            {view.visit.mount ? <MountSheet visit={view.visit} mount={view.visit.mount} /> : null}
            <div class="screen-only">
              <NextLinks
                ways={[
                  { href: links.settings(props.id), label: 'Settings' },
                  { href: links.part(props.id, 'mnt'), label: 'Mounting questions' },
                ]}
              />
            </div>
          </>
        );
      }}
    </VisitFrame>
  );
}
