import { useEffect, useRef, useState } from 'preact/hooks';
import { Banner, timeWords, useDraft, useSave } from '../../ui';
import { keyLabel, problemLabel, valueWords, triedWords } from '../../ui/setting-words';
import { Term } from '../../ui/term';
import { VisitFrame, NextLinks } from '../../ui/visit/frame';
import { findItem, links, sourceOf } from '../../ui/visit/links';
import { sentenceOf } from '../../ui/words';
import type { VisitView } from '../../lib';
import type { Setting, SpeedWay } from '../../lib/model.gen';
import { isOpen, mayWrite, roleIn, writeVisit } from '../../lib/visit-writer';
import { AdvicePart } from './advice-part';
import { ChangeFields } from './change-part';
import { chooseKey, nextSetting, readSetting, type SettingErrors, type SettingForm } from './setting-form';
import { TriedPart } from './tried-part';

/** The problem and the reason, the problem once. */
function whyWords(setting: Setting): string {
  const problem = setting.problem ? problemLabel(setting.problem) : '';
  return setting.why.startsWith(problem) ? setting.why : `${problem}. ${setting.why}`;
}

/** How far the chair goes at this speed before the hand lets go. */
function Way(props: { readonly ways: readonly SpeedWay[]; readonly setting: Setting }) {
  const way = props.ways.find((one) => one.setting === props.setting.ref);
  return way ? <p>{sentenceOf(way.message)}</p> : null;
}

function SettingsTable(props: { readonly settings: readonly Setting[]; readonly ways: readonly SpeedWay[] }) {
  if (props.settings.length === 0) return <p>No setting has been changed at this visit.</p>;
  return (
    <div class="table-wrap" role="region" aria-label="Table of changed settings" tabIndex={0}>
      <table class="table settings-table">
        <caption>In the order in which they were changed</caption>
        <thead>
          <tr>
            {['Setting', 'Before', 'After', 'Why', 'What it did', 'When'].map((head) => (
              <th key={head} scope="col">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {props.settings.map((one) => (
            <tr key={one.ref}>
              <th scope="row">
                {keyLabel(one.key)}
                {one.profile ? `, ${one.profile}` : ''}
                {one.word ? <span class="field-hint"> “{one.word}”</span> : null}
              </th>
              <td>{valueWords(one.before, one.unit)}</td>
              <td>
                <strong>{valueWords(one.after, one.unit)}</strong>
                <Way ways={props.ways} setting={one} />
              </td>
              <td>{whyWords(one)}</td>
              <td>{triedWords(one) || 'not noted'}</td>
              <td>{timeWords(one.at)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** Letting go and the stop calls, when a change has made them due again. */
function DueAgain(props: { readonly view: VisitView }) {
  const { visit, checklist, result } = props.view;
  const due = (result?.due ?? []).flatMap((one) => findItem(checklist, one.item) ?? []);
  if (due.length === 0) return null;
  return (
    <Banner tone="caution" title="Due again">
      <p>
        <Term id="damping" />, <Term id="dead-zone">dead zone</Term>, braking or speed was changed. Time letting go and the stop calls again
        before driving on.
      </p>
      <ul>
        {due.map(({ code, item }) => (
          <li key={item.id}>
            <a class="link-row" href={item.from ? sourceOf(item.from).href(visit.id) : links.item(visit.id, code, item.id)}>
              {item.title}
            </a>
          </li>
        ))}
      </ul>
    </Banner>
  );
}

function Changing(props: { readonly view: VisitView }) {
  const { visit } = props.view;
  const settings = visit.settings ?? [];
  const draft = useDraft<SettingForm>({ about: visit.id, name: 'setting', title: 'A change of a setting' }, nextSetting(settings));
  const { value: form, set: setForm } = draft;
  const [errors, setErrors] = useState<SettingErrors>({});
  const saver = useSave();
  const heading = useRef<HTMLHeadingElement>(null);
  const [taken, setTaken] = useState(0);
  useEffect(() => {
    if (taken > 0) heading.current?.focus();
  }, [taken]);
  const save = async () => {
    if (saver.busy()) return;
    const read = readSetting(form);
    setErrors('errors' in read ? read.errors : {});
    if ('errors' in read) return;
    if (await saver.save(keyLabel(read.setting.key), () => writeVisit(visit, 'setting-changed', read.setting))) draft.drop();
  };
  return (
    <>
      <AdvicePart
        problem={form.problem}
        onProblem={(problem) => setForm({ ...form, problem })}
        onTake={(advised) => {
          setForm({ ...chooseKey(form, advised.key, settings), why: form.why || `${problemLabel(form.problem)}.` });
          setTaken(taken + 1);
        }}
      />
      <section aria-labelledby="change">
        <h2 id="change" ref={heading} tabIndex={-1}>
          One change at a time
        </h2>
        <p>Only trained people change settings. Change one, save it, drive and look; then the next. Ranges are in the maker’s manual.</p>
        <ChangeFields form={form} errors={errors} settings={settings} onChange={setForm} onSave={save} draft={draft} state={saver.state} />
      </section>
    </>
  );
}

/** Settings of the chair: what was changed and why, and what to try for an observed problem. */
export function SettingsScreen(props: { readonly id: string }) {
  return (
    <VisitFrame id={props.id} title="Settings of the chair">
      {(view) => {
        const may = mayWrite(roleIn(view.visit.team), 'setting-changed');
        return (
          <>
            <DueAgain view={view} />
            <section aria-labelledby="changed">
              <h2 id="changed">Changed settings</h2>
              <SettingsTable settings={view.visit.settings ?? []} ways={view.result?.ways ?? []} />
            </section>
            {may ? null : <Banner tone="note">A clinician changes settings.</Banner>}
            {may && isOpen(view.visit) ? <TriedPart visit={view.visit} settings={view.visit.settings ?? []} /> : null}
            {may && isOpen(view.visit) ? <Changing view={view} /> : null}
            <NextLinks
              ways={[
                { href: links.measure(props.id, 'release'), label: 'Time letting go' },
                { href: links.part(props.id, 'saf'), label: 'Stop calls' },
                { href: links.mount(props.id), label: 'Mounting' },
              ]}
            />
          </>
        );
      }}
    </VisitFrame>
  );
}
