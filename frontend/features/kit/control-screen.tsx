import { useMemo, useState } from 'preact/hooks';
import {
  AtOnceForm,
  Banner,
  Button,
  CheckField,
  CheckGroup,
  ChoiceRows,
  dateWords,
  Dialog,
  Form,
  numberWords,
  Page,
  SavedLine,
  TextField,
  useAtOnce,
  useDraft,
  useSave,
  type Saver,
} from '../../ui';
import { goTo, usePlace } from '../../ui/address';
import { classes, classLabel } from '../../ui/control-classes';
import { FigureInputs } from '../../ui/figure-inputs';
import { useLimits, type Limits } from '../../ui/limits';
import { ControlPicture } from '../../ui/pictures/control-picture';
import { Facts } from '../../ui/part';
import { links } from '../../ui/visit/links';
import { kit, newId, session, write } from '../../lib';
import { lengths, mountKinds, type Control } from '../../lib/model.gen';
import {
  asked,
  chooseControlClass,
  EMPTY_CONTROL,
  formOfControl,
  readControl,
  weights,
  type ControlErrors,
  type ControlForm,
} from './control-form';
import { mountWords, sealingWords, yesNo } from './words';

/** One control of the kit. The lead lists and changes it; everybody reads it. */
export function ControlScreen(props: { readonly id: string }) {
  const { query } = usePlace();
  const listed = kit.value.find((one) => one.id === props.id);
  const fresh = props.id === 'new';
  const id = useMemo(() => (fresh ? newId() : props.id), [props.id]);
  const teams = session.value?.teams ?? [];
  const team = listed?.team ?? query.team ?? teams.find((one) => one.role === 'lead')?.id ?? '';
  const leads = teams.some((one) => one.id === team && one.role === 'lead');
  const back = { href: links.kit, label: 'Kit' };
  if (!fresh && listed === undefined) {
    return (
      <Page title="Control" back={back}>
        <p>This control is not in the kit on this tablet. It may have been taken out, or arrive when you next send and fetch.</p>
      </Page>
    );
  }
  return (
    <Page title={listed?.name ?? 'A control for the kit'} back={back}>
      {leads ? (
        <ControlEditor key={id} id={id} team={team} listed={listed} />
      ) : (
        <>
          {listed ? <ControlFacts control={listed} /> : null}
          <Banner tone="note">The lead of the team lists and changes controls.</Banner>
        </>
      )}
    </Page>
  );
}

function known(value: number | undefined, unit: string): string {
  return value ? `${numberWords(value, 1)} ${unit}` : 'not known';
}

function ControlFacts(props: { readonly control: Control }) {
  const one = props.control;
  return (
    <Facts
      rows={[
        ['Kind', classLabel(one.class)],
        ['Starts the chair at', known(one.start_gf, 'gf')],
        ['Full command at', known(one.operate_gf, 'gf')],
        ['Travel', known(one.travel_mm, 'mm')],
        ['Lever', known(one.lever_mm, 'mm')],
        ['Sealing', sealingWords(one.sealing)],
        ['Jack for power', yesNo(one.power_jack)],
        ['Jack for mode', yesNo(one.mode_jack)],
        ['Connector', one.connector ?? 'not said'],
        ['Fit for a helper', yesNo(one.attendant)],
        ['Weight', known(one.weight_g, 'g')],
        ['Mounts', (one.mounts ?? []).map(mountWords).join(', ') || 'not said'],
        ['Measured', one.measured ? dateWords(one.measured) : 'not said'],
        ['By', one.measured_by ?? 'not said'],
      ]}
    />
  );
}

function usualOf(limits: Limits | null) {
  return (id: string) => {
    const text = (what: string) => String(limits?.get(`class-${id}-${what}`) ?? '');
    return { operate: text('force'), travel: text('travel') };
  };
}

interface EditorProps {
  readonly id: string;
  readonly team: string;
  readonly listed: Control | undefined;
}

/** The kinds of control, each with its usual figures and its picture. */
function classOptions(limits: Limits | null) {
  return classes.map((one) => ({
    value: one.id,
    label: one.label,
    text: usualText(one.id, limits) || one.text,
    picture: <ControlPicture kind={one.id} />,
  }));
}

function ControlEditor(props: EditorProps) {
  const { id, team, listed } = props;
  const limits = useLimits();
  const draft = useDraft(
    { about: listed ? id : 'new-control', name: `control ${listed ? '' : team}`, title: listed ? listed.name : 'A control for the kit' },
    listed ? formOfControl(listed) : EMPTY_CONTROL,
  );
  const form = draft.value;
  const [newErrors, setErrors] = useState<ControlErrors>({});
  const saver = useSave();
  const change = (part: Partial<ControlForm>) => draft.set((now) => ({ ...now, ...part }));
  const read = (typed: ControlForm) => {
    const got = readControl(typed, team);
    return 'errors' in got ? got : { body: got.control };
  };
  const once = useAtOnce({ title: form.name, draft, open: () => ({}), read, write: (body) => write('control-listed', id, body) });
  const list = async () => {
    const got = read(draft.now());
    setErrors('errors' in got ? got.errors : {});
    if ('errors' in got || saver.busy()) return;
    if (!(await saver.save(got.body.name, () => write('control-listed', id, got.body)))) return;
    draft.drop();
    goTo(links.kitControl(id), true);
  };
  const errors = listed ? once.errors : newErrors;
  const fields = (
    <>
      <TextField
        label="The team’s own name for it"
        hint="No make is needed."
        value={form.name}
        maxLength={lengths['control-listed'].name}
        error={errors.name}
        onInput={(name) => change({ name })}
      />
      <ChoiceRows
        legend="Kind of control"
        value={form.class}
        error={errors.class}
        options={classOptions(limits)}
        onChange={(kind) => draft.set((now) => chooseControlClass(now, kind, usualOf(limits)))}
      />
      <Asks form={form} errors={errors} change={change} />
      <Fittings form={form} errors={errors} change={change} />
      <div class="grid-fields">
        <TextField
          label="Date of the figures"
          type="date"
          value={form.measured}
          error={errors.measured}
          onInput={(measured) => change({ measured })}
        />
        <TextField
          label="Who measured"
          value={form.measuredBy}
          maxLength={lengths['control-listed'].measured_by}
          onInput={(measuredBy) => change({ measuredBy })}
        />
      </div>
    </>
  );
  return listed ? (
    <AtOnceForm form={once} draft={draft}>
      {fields}
      <div class="actions">
        <TakeOut id={id} listed={listed} saver={saver} />
      </div>
      <SavedLine state={saver.state} />
    </AtOnceForm>
  ) : (
    <Form onSave={list} errors={errors} draft={draft} state={saver.state}>
      {fields}
      <div class="actions">
        <Button type="submit" kind="main" size="big">
          List the control
        </Button>
      </div>
    </Form>
  );
}

function usualText(id: string, limits: Limits | null): string {
  const { operate, travel } = usualOf(limits)(id);
  return operate === ''
    ? ''
    : `Starting figure: about ${operate} gf${travel === '' ? '' : ` and ${travel} mm`} (common practice, no source).`;
}

interface PartProps {
  readonly form: ControlForm;
  readonly errors: ControlErrors;
  readonly change: (part: Partial<ControlForm>) => void;
}

function Asks(props: PartProps) {
  const { form, errors, change } = props;
  return (
    <fieldset class="group">
      <legend class="field-label">What it asks for</legend>
      <p class="field-hint">Measure on the control itself, with the gauge at the knob where the body touches it. Blank is not known.</p>
      <FigureInputs fields={asked} typed={form.figures} errors={errors} onChange={(figures) => change({ figures })} />
    </fieldset>
  );
}

function Fittings(props: PartProps) {
  const { form, errors, change } = props;
  const toggle = (mount: string, on: boolean) =>
    change({ mounts: mountKinds.filter((one) => (one === mount ? on : form.mounts.includes(one))) });
  return (
    <>
      <div class="grid-fields">
        <TextField
          label="Sealing"
          hint="Code of IEC 60529, such as IP54. Blank is not sealed or not known."
          value={form.sealing}
          maxLength={8}
          error={errors.sealing}
          onInput={(sealing) => change({ sealing })}
        />
        <TextField
          label="Connector"
          value={form.connector}
          maxLength={lengths['control-listed'].connector}
          onInput={(connector) => change({ connector })}
        />
      </div>
      <FigureInputs fields={weights} typed={form.figures} errors={errors} onChange={(figures) => change({ figures })} />
      <fieldset class="group">
        <legend class="field-label">Fittings</legend>
        <div class="checks">
          <CheckField label="Jack for a power switch" checked={form.powerJack} onChange={(powerJack) => change({ powerJack })} />
          <CheckField label="Jack for a mode switch" checked={form.modeJack} onChange={(modeJack) => change({ modeJack })} />
          <CheckField label="Fit to be used by a helper" checked={form.attendant} onChange={(attendant) => change({ attendant })} />
        </div>
      </fieldset>
      <CheckGroup
        legend="Mounts it fits"
        options={mountKinds.map((value) => ({ value, label: mountWords(value) }))}
        checked={(mount) => form.mounts.includes(mount)}
        onChange={toggle}
      />
    </>
  );
}

/** Takes the control out of the kit. Visits that packed it keep it. */
function TakeOut(props: { readonly id: string; readonly listed: Control; readonly saver: Saver }) {
  const { value: asking, set: setAsking } = useDraft({ about: props.id, name: 'take out' }, false);
  const out = async () => {
    const { id: _, ref: _ref, by: _by, at: _at, pos: _pos, ...listed } = props.listed;
    setAsking(false);
    if (await props.saver.save(`${listed.name} is taken out`, () => write('control-listed', props.id, { ...listed, gone: true })))
      goTo(links.kit);
  };
  return (
    <>
      <Button onPress={() => setAsking(true)}>Take it out of the kit</Button>
      <Dialog
        title="Take it out of the kit?"
        open={asking}
        onClose={() => setAsking(false)}
        actions={
          <Button kind="main" onPress={() => void out()}>
            Take it out
          </Button>
        }
      >
        <p>{props.listed.name} will not be offered any more. Visits that have it packed keep it.</p>
      </Dialog>
    </>
  );
}
