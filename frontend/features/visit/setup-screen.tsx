import { useEffect, useState } from 'preact/hooks';
import { AtOnceForm, Banner, CheckField, ChoiceRows, More, Segments, SelectField, TextField, useAtOnce, useDraft } from '../../ui';
import { classLabel, classes } from '../../ui/control-classes';
import { useLimits } from '../../ui/limits';
import { ControlPicture } from '../../ui/pictures/control-picture';
import { SitePicker } from '../../ui/site-picker';
import { sitesTried, siteWords } from '../../ui/sites';
import { Term } from '../../ui/term';
import { forceUnit } from '../../ui/units';
import { VisitFrame, NextLinks } from '../../ui/visit/frame';
import { links } from '../../ui/visit/links';
import { asksSwitch, NoSwitch, takeBackNoSwitch } from '../../ui/visit/no-switch';
import { convertForces, plausible, type VisitView } from '../../lib';
import { directions, lengths, type SetupChosen, type Visit } from '../../lib/model.gen';
import { isOpen, mayWrite, roleIn, writeVisit } from '../../lib/visit-writer';
import {
  chooseClass,
  chooseFromKit,
  classText,
  figuresFor,
  formOf,
  readSetup,
  type SetupErrors,
  type SetupFigures,
  type SetupForm,
} from './setup-form';

const throwOptions = [100, 90, 80, 70, 60, 50, 40, 30, 20].map((percent) => ({ value: String(percent), label: `${percent} %` }));

function DirectionFields(props: {
  readonly form: SetupForm;
  readonly error: string | undefined;
  readonly change: (part: Partial<SetupForm>) => void;
}) {
  const { form, change } = props;
  const toggle = (direction: string, on: boolean) =>
    change({
      needed: on ? [...form.needed, direction] : form.needed.filter((one) => one !== direction),
    });
  return (
    <fieldset class="group">
      <legend class="field-label">Directions the driver must be able to give</legend>
      <div class="checks">
        {directions.map((direction) => (
          <CheckField
            key={direction}
            label={direction}
            checked={form.needed.includes(direction)}
            onChange={(on) => toggle(direction, on)}
          />
        ))}
      </div>
      {props.error ? (
        <p class="field-error" role="alert">
          {props.error}
        </p>
      ) : null}
      <More summary="Way to full command, where it was set shorter">
        <div class="grid-fields">
          {directions.map((direction) => (
            <SelectField
              key={direction}
              label={`Way to full command ${direction} (%)`}
              value={form.throw[direction] ?? '100'}
              options={throwOptions}
              onChange={(percent) => change({ throw: { ...form.throw, [direction]: percent } })}
            />
          ))}
        </div>
        <p class="field-hint">
          How much of the travel gives full command: 100 % as it comes. <Term id="throw" />.
        </p>
      </More>
    </fieldset>
  );
}

function FigureFields(props: {
  readonly view: VisitView;
  readonly form: SetupForm;
  readonly errors: SetupErrors;
  readonly unit: string;
  readonly change: (part: Partial<SetupForm>) => void;
}) {
  const { form, errors, unit, change } = props;
  // What stands in a field when the screen opens is in sight.
  const [seldom] = useState([form.powerPress, form.modePress, form.stopPress].some((force) => force !== ''));
  return (
    <fieldset class="group">
      <legend class="field-label">What this control asks for</legend>
      <p class="field-hint">
        Best read off the actual control with the gauge, at the contact point. What a kind of control fills in is a value to start from:
        common practice, no source.
      </p>
      <div class="grid-fields">
        <TextField
          label={`Force that starts the chair (${unit})`}
          inputMode="decimal"
          value={form.start}
          error={errors.start}
          onInput={(start) => change({ start })}
        />
        <TextField
          label={`Force for full command (${unit})`}
          inputMode="decimal"
          value={form.operate}
          error={errors.operate}
          onInput={(operate) => change({ operate })}
        />
        <TextField
          label="Travel to full command (mm)"
          inputMode="decimal"
          value={form.travel}
          error={errors.travel}
          onInput={(travel) => change({ travel })}
        />
        <TextField
          label={`Force to press the driver’s switch (${unit})`}
          hint="Blank when there is no switch."
          inputMode="decimal"
          value={form.switchPress}
          error={errors.switchPress}
          onInput={(switchPress) => change({ switchPress })}
        />
      </div>
      <div class="switch-row">
        <NoSwitch view={props.view} onSaid={() => change({ switchPress: '', powerPress: '', modePress: '' })} />
        <More summary="Power, mode and stop switch by themselves" open={seldom}>
          <div class="grid-fields">
            <TextField
              label={`Power switch, where it asks another force (${unit})`}
              inputMode="decimal"
              value={form.powerPress}
              error={errors.powerPress}
              onInput={(powerPress) => change({ powerPress })}
            />
            <TextField
              label={`Mode switch, where it asks another force (${unit})`}
              inputMode="decimal"
              value={form.modePress}
              error={errors.modePress}
              onInput={(modePress) => change({ modePress })}
            />
            <TextField
              label={`The driver’s own stop switch (${unit})`}
              hint="Blank when there is none, or when it asks no force (breath, no touch)."
              inputMode="decimal"
              value={form.stopPress}
              error={errors.stopPress}
              onInput={(stopPress) => change({ stopPress })}
            />
          </div>
        </More>
      </div>
    </fieldset>
  );
}

/** The team's own controls, as they were measured. */
function KitFields(props: {
  readonly form: SetupForm;
  readonly figures: SetupFigures;
  readonly unit: string;
  readonly onChoose: (form: SetupForm) => void;
}) {
  const { form, figures, unit } = props;
  if (figures.kit.length === 0) return null;
  const text = (start: string, operate: string, travel: string) =>
    [
      start === '' ? 'Start not measured' : `Starts at ${start} ${unit}`,
      operate === '' ? 'full command not measured' : `full command at ${operate} ${unit}`,
      travel === '' ? 'travel not measured' : `${travel} mm`,
    ].join(', ');
  return (
    <ChoiceRows
      legend="From the team’s kit, as it was measured"
      value={figures.kit.find((one) => one.name === form.control && one.class === form.class)?.id ?? ''}
      options={figures.kit.map((one) => ({
        value: one.id,
        label: one.name,
        text: text(one.start, one.operate, one.travel),
        picture: <ControlPicture kind={one.class} />,
      }))}
      onChange={(id) => {
        const one = figures.kit.find((each) => each.id === id);
        if (one) props.onChoose(chooseFromKit(form, one));
      }}
    />
  );
}

/** How the control drives the chair, and what stops it. */
function DriveFields(props: {
  readonly form: SetupForm;
  readonly errors: SetupErrors;
  readonly change: (part: Partial<SetupForm>) => void;
}) {
  const { form, errors, change } = props;
  return (
    <fieldset class="group">
      <legend class="field-label">How it drives</legend>
      <SelectField
        label="The chair drives"
        value={form.driveMode}
        options={[
          { value: '', label: 'Not asked' },
          { value: 'held', label: 'As long as it is held' },
          { value: 'momentary', label: 'A little, after a short command' },
          { value: 'latched', label: 'On and on, until it is stopped (latched)' },
        ]}
        onChange={(driveMode) => change({ driveMode })}
      />
      <CheckField
        label="The driver has a stop beside the control"
        checked={form.separateStop}
        onChange={(separateStop) => change({ separateStop })}
      />
      {form.driveMode === 'latched' && !form.separateStop ? (
        <Banner tone="caution">Letting go does not stop it. Without a stop of the driver’s own it is not to be used.</Banner>
      ) : null}
      {form.class === 'breath' ? (
        <TextField
          label="Pressure that it asks (kPa)"
          inputMode="decimal"
          value={form.breath}
          error={errors.breath}
          onInput={(breath) => change({ breath })}
        />
      ) : null}
    </fieldset>
  );
}

/** What is saved, as the form shows it. */
interface Standing {
  readonly figures: SetupFigures;
  readonly form: SetupForm;
}

/** Opens the form when the engine has put what is known into the visit's unit, and again after each save. */
function SetupOpening(props: { readonly view: VisitView }) {
  const { visit } = props.view;
  const limits = useLimits();
  const [standing, setStanding] = useState<Standing | null>(null);
  const [failed, setFailed] = useState(false);
  const { setup } = visit;
  useEffect(() => {
    if (limits === null) return undefined;
    let here = true;
    figuresFor(setup, forceUnit(visit.unit), limits, convertForces, visit.kit).then(
      (figures) => here && setStanding({ figures, form: formOf(setup, figures) }),
      () => here && setFailed(true),
    );
    return () => {
      here = false;
    };
    // The kit of a visit that was started just now may come after its screen.
  }, [limits, setup?.ref, visit.kit?.length]);
  if (failed)
    return (
      <Banner tone="caution" live>
        The engine did not start, so forces cannot be put into {visit.unit}. Reload the page.
      </Banner>
    );
  return standing === null || limits === null ? (
    <p role="status">Opening the form…</p>
  ) : (
    <SetupEditor view={props.view} standing={standing} limits={limits} />
  );
}

/** The kinds of control, each with its picture. */
function classChoices(limits: ReadonlyMap<string, number>) {
  return classes.map((one) => ({
    value: one.id,
    label: one.label,
    text: classText(one, limits),
    picture: <ControlPicture kind={one.id} />,
  }));
}

/** The kind of control and what the team calls it: folded while the kit may have it, and once it is one of the kit. */
function ClassFields(props: {
  readonly form: SetupForm;
  readonly figures: SetupFigures;
  readonly limits: ReadonlyMap<string, number>;
  readonly error: string | undefined;
  readonly onChoose: (form: SetupForm) => void;
  readonly change: (part: Partial<SetupForm>) => void;
}) {
  const { form, figures, change } = props;
  const { kit } = figures;
  const ofKit = form.class === '' ? kit.length > 0 : kit.some((one) => one.name === form.control && one.class === form.class);
  return (
    <More summary={ofKit ? 'A control that is not of the kit' : 'Kind of control'} open={!ofKit}>
      <div class="stack setup-kinds">
        <ChoiceRows
          legend="Kind of control"
          legendHidden={!ofKit}
          value={form.class}
          error={props.error}
          options={classChoices(props.limits)}
          onChange={(id) => props.onChoose(chooseClass(form, id, figures.usual))}
        />
        <TextField
          label="The team’s own name for it"
          value={form.control}
          maxLength={lengths['setup-chosen'].control}
          onInput={(control) => change({ control })}
        />
      </div>
    </More>
  );
}

/** Sites that most people drive with. */
const usualSites: readonly string[] = ['hand-right', 'hand-left', 'chin'];

/** The site that drives: one of the usual ones in one touch, any other on the person. */
function SiteFields(props: {
  readonly visit: Visit;
  readonly site: string;
  readonly error: string | undefined;
  readonly onChange: (site: string) => void;
}) {
  const { visit, site } = props;
  const tried = sitesTried(visit);
  const near = [...new Set([...tried.measured, ...usualSites])].filter((one) => !tried.aside.has(one));
  // The drawing shows anew where a site lies that was chosen beside it.
  const [beside, setBeside] = useState(0);
  return (
    <div class="stack">
      <Segments
        legend="Sites that often drive"
        legendHidden
        value={site}
        options={near.map((one) => ({ value: one, label: siteWords(one) }))}
        onChange={(chosen) => {
          setBeside(beside + 1);
          props.onChange(chosen);
        }}
      />
      <SitePicker key={beside} legend="Site that drives" value={site} {...tried} onChange={props.onChange} />
      {props.error ? (
        <p class="field-error" role="alert">
          {props.error}
        </p>
      ) : null}
    </div>
  );
}

/** What the level is for: where and when. */
function WhereFields(props: { readonly form: SetupForm; readonly change: (part: Partial<SetupForm>) => void }) {
  const { form, change } = props;
  return (
    <div class="grid-fields">
      <TextField
        label="Where the level is for"
        value={form.place}
        suggestions={['kitchen, hall, bathroom', 'all rooms', 'rooms and garden path']}
        maxLength={lengths['setup-chosen'].place}
        onInput={(place) => change({ place })}
      />
      <TextField
        label="When"
        value={form.window}
        suggestions={['mornings', 'afternoons', 'all day']}
        maxLength={lengths['setup-chosen'].window}
        onInput={(window) => change({ window })}
      />
    </div>
  );
}

/** What the control must have before it counts. */
function openInSetup(form: SetupForm): Readonly<Record<string, string>> {
  return {
    ...(form.class === '' ? { class: 'the kind of control' } : {}),
    ...(form.site === '' ? { site: 'the site that drives' } : {}),
  };
}

function SetupEditor(props: { readonly view: VisitView; readonly standing: Standing; readonly limits: ReadonlyMap<string, number> }) {
  const { figures } = props.standing;
  const visit = props.view.visit;
  const unit = forceUnit(visit.unit);
  const draft = useDraft({ about: visit.id, name: 'setup', title: 'Control and place' }, props.standing.form);
  const form = draft.value;
  const once = useAtOnce<SetupForm, SetupChosen>({
    title: 'control and place',
    draft,
    open: openInSetup,
    read: async (typed) => {
      const read = await readSetup(typed, unit, { plausible, convert: convertForces }).catch(() => ({
        errors: { class: 'The program did not answer; nothing was saved. Reload the page and try again.' },
      }));
      return 'errors' in read ? { errors: read.errors } : { body: read.setup };
    },
    write: async (body) => {
      await writeVisit(visit, 'setup-chosen', body);
      if (asksSwitch(body)) await takeBackNoSwitch(visit);
    },
  });
  const errors: SetupErrors = once.errors;
  const change = (part: Partial<SetupForm>) => draft.set((now) => ({ ...now, ...part }));
  const setWhole = draft.set;
  return (
    <AtOnceForm form={once} draft={draft}>
      <div class="setup-kit">
        <KitFields form={form} figures={figures} unit={unit} onChoose={setWhole} />
      </div>
      <ClassFields form={form} figures={figures} limits={props.limits} error={errors.class} onChoose={setWhole} change={change} />
      <div class="setup-columns">
        <SiteFields
          visit={visit}
          site={form.site}
          error={errors.site}
          onChange={(site) => {
            change({ site });
            once.commit();
          }}
        />
        <div class="stack">
          <FigureFields view={props.view} form={form} errors={errors} unit={unit} change={change} />
          <DriveFields form={form} errors={errors} change={change} />
          <DirectionFields form={form} error={errors.needed} change={change} />
          <WhereFields form={form} change={change} />
        </div>
      </div>
    </AtOnceForm>
  );
}

function SetupWords(props: { readonly view: VisitView }) {
  const setup = props.view.visit.setup;
  if (!setup) return <p>No control is chosen yet.</p>;
  return (
    <p>
      {classLabel(setup.class)}
      {setup.control ? ` (${setup.control})` : ''} at the {siteWords(setup.site)}. Starts at {setup.start_gf} gf, full command at{' '}
      {setup.operate_gf} gf and {setup.travel_mm} mm.
    </p>
  );
}

/** The control, site and place that the level of this visit is for. The last saved one counts. */
export function SetupScreen(props: { readonly id: string }) {
  return (
    <VisitFrame id={props.id} title="Control and place" wide>
      {(view) => {
        const may = mayWrite(roleIn(view.visit.team), 'setup-chosen');
        return (
          <>
            <p>The level is for this control, at this site, in this place. The last saved counts.</p>
            {may && isOpen(view.visit) ? (
              <SetupOpening view={view} />
            ) : (
              <>
                <SetupWords view={view} />
                {may ? null : <Banner tone="note">A clinician chooses control and place.</Banner>}
              </>
            )}
            <NextLinks
              ways={[
                { href: links.measure(props.id, 'force'), label: 'Measure force' },
                { href: links.map(props.id), label: 'Visit map' },
              ]}
            />
          </>
        );
      }}
    </VisitFrame>
  );
}
