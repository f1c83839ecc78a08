import { useMemo } from 'preact/hooks';
import { Banner, Button, ButtonLink, ChoiceRows, SavedLine, Segments, SelectField, TextField, useDraft, useSave } from '../../ui';
import { classes } from '../../ui/control-classes';
import { COURSE_WORDS, BASES, COUNTS, MOISTURES, sitesSpokenOf, TASK, YES_NO } from '../../ui/needs';
import { Facts, Part } from '../../ui/part';
import { WristPicture } from '../../ui/pictures/wrist';
import { sites, siteWords } from '../../ui/sites';
import { VisitFrame, NextLinks } from '../../ui/visit/frame';
import { links } from '../../ui/visit/links';
import { openClient } from '../../lib';
import { courses, lengths, type Visit } from '../../lib/model.gen';
import { isOpen, mayWrite, roleIn, writeVisit } from '../../lib/visit-writer';
import { CommandCount } from './command-count';
import { CountField, type Note } from './count-field';
import { courseAlong, needsEvent } from './needs-event';
import { controlName, genericId } from './words';

/** How and where the person will drive. Each answer is saved by itself. */
export function NeedsScreen(props: { readonly id: string }) {
  return (
    <VisitFrame id={props.id} title="Needs" wide>
      {({ visit }) => (
        <>
          {isOpen(visit) && mayWrite(roleIn(visit.team), 'needs-noted') ? <Questions visit={visit} /> : <Fixed visit={visit} />}
          <NextLinks
            ways={[
              { href: links.controls(props.id), label: 'Controls' },
              { href: links.strain(props.id), label: 'Strain' },
              { href: links.map(props.id), label: 'Visit map' },
            ]}
          />
        </>
      )}
    </VisitFrame>
  );
}

function Questions(props: { readonly visit: Visit }) {
  const { visit } = props;
  const saver = useSave();
  const course = useMemo(() => openClient(visit.client), [visit.client]).value?.client.course;
  const note: Note = (what, part) => saver.save(what, () => writeVisit(visit, ...needsEvent({ ...courseAlong(visit, course), ...part })));
  return (
    <div class="stack">
      <Part title="The ground and the helper">
        <div class="ask-list">
          {YES_NO.map(({ field, words, hint }) => (
            <div key={field} class="ask">
              <Segments
                legend={words}
                value={yesNo(visit.needs?.[field])}
                options={[
                  { value: 'yes', label: 'Yes' },
                  { value: 'no', label: 'No' },
                ]}
                onChange={(value) => void note(words, { [field]: value === 'yes' })}
              />
              <p class="field-hint">{hint}</p>
              <NotAsked said={visit.needs?.[field] !== undefined} words={words} onPress={() => void note(words, { [field]: undefined })} />
            </div>
          ))}
        </div>
        <ChoiceRows
          legend="Base and mount together"
          value={visit.needs?.base ?? ''}
          options={BASES}
          onChange={(base) => void note('base and mount', { base })}
        />
        <NotAsked
          said={Boolean(visit.needs?.base)}
          words="Base and mount together"
          onPress={() => void note('base and mount', { base: '' })}
        />
      </Part>
      <Part title="A usual day">
        <div class="grid-fields">
          {COUNTS.map((question) => (
            <CountField key={question.field} visit={visit} question={question} note={note} />
          ))}
          <WristPicture />
        </div>
        <CommandCount visit={visit.id} onCounted={(value) => void note('Commands while driving', { commands_per_min: value })} />
        <CourseLine visit={visit} course={course} />
      </Part>
      <Part title="What the client would like">
        <Wishes visit={visit} note={note} />
      </Part>
      <Part title="Sites">
        <SiteNotes visit={visit} note={note} />
      </Part>
      <SavedLine state={saver.state} />
    </div>
  );
}

/** The course of the condition, which is said on the client's page. */
function CourseLine(props: { readonly visit: Visit; readonly course: string | undefined }) {
  const { visit, course } = props;
  const kept = visit.needs?.course;
  return (
    <>
      {course ? (
        <p>
          Course of the condition: <strong>{courseWords(course)}</strong>, as on the client’s page.
          {kept === course
            ? ''
            : ` ${kept ? `This visit still says “${courseWords(kept)}”. ` : ''}Your next answer on this page brings it up to date.`}
        </p>
      ) : (
        <p>Course of the condition: {kept ? courseWords(kept) : 'not known'}.</p>
      )}
      <div class="actions">
        <ButtonLink kind="quiet" href={links.client(visit.client)}>
          {course ? 'To the client’s page' : 'Say it on the client’s page'}
        </ButtonLink>
      </div>
    </>
  );
}

/** Takes an answer back; what nobody asked is not “no”. */
function NotAsked(props: { readonly said: boolean; readonly words: string; readonly onPress: () => void }) {
  return props.said ? (
    <Button kind="quiet" label={`Not asked after all: ${props.words}`} onPress={props.onPress}>
      Not asked after all
    </Button>
  ) : null;
}

function courseWords(course: string | undefined): string {
  const known = courses.find((one) => one === course);
  return known ? COURSE_WORDS[known] : (course ?? '');
}

function yesNo(on: boolean | undefined): string {
  return on === undefined ? '' : on ? 'yes' : 'no';
}

function Wishes(props: { readonly visit: Visit; readonly note: Note }) {
  const { visit, note } = props;
  const kit = visit.kit ?? [];
  return (
    <div class="grid-fields">
      <SelectField
        label="Site that the client likes best"
        value={visit.needs?.wish_site ?? ''}
        options={[{ value: '', label: 'Not asked yet' }, ...sites.map((site) => ({ value: site.id, label: site.words }))]}
        onChange={(site) => void note('wish', { wish_site: site })}
      />
      <SelectField
        label="Control that the client likes best"
        value={visit.needs?.wish_control ?? ''}
        options={[
          { value: '', label: 'Not asked yet' },
          ...kit.map((one) => ({ value: one.id, label: one.name })),
          ...classes.map((one) => ({ value: genericId(one.id), label: controlName(genericId(one.id), []) })),
        ]}
        onChange={(control) => void note('wish', { wish_control: control })}
      />
    </div>
  );
}

function SiteNotes(props: { readonly visit: Visit; readonly note: Note }) {
  const { visit, note } = props;
  const { value: added, set: setAdded } = useDraft<readonly string[]>({ about: visit.id, name: 'sites added' }, []);
  const list = [...new Set([...sitesSpokenOf(visit), ...added])];
  return (
    <>
      {list.length === 0 ? <p>No site was measured yet. Add one to say how wet it is, or why it is ruled out.</p> : null}
      {list.map((site) => (
        <SiteNote key={site} visit={visit} site={site} note={note} />
      ))}
      <SelectField
        label="Add a site"
        value=""
        options={[
          { value: '', label: 'Choose…' },
          ...sites.filter((site) => !list.includes(site.id)).map((site) => ({ value: site.id, label: site.words })),
        ]}
        onChange={(site) => site !== '' && setAdded([...added, site])}
      />
    </>
  );
}

function SiteNote(props: { readonly visit: Visit; readonly site: string; readonly note: Note }) {
  const { visit, site, note } = props;
  const reason = visit.needs?.rejected?.[site] ?? '';
  const words = siteWords(site);
  const draft = useDraft({ about: visit.id, name: `ruled out ${site}`, title: `Ruled out because (${words})` }, reason);
  const commit = async (value: string) => {
    const trimmed = value.trim();
    if (trimmed === '') return draft.drop();
    draft.set(trimmed);
    if (trimmed !== reason && (await note(`${words} is ruled out`, { rejected: { [site]: trimmed } }))) draft.saved(trimmed);
  };
  return (
    <article class="choice-card">
      <h3>
        {words}
        {reason === '' ? '' : ' – ruled out'}
      </h3>
      <Segments
        legend={`How wet the ${words} gets while driving`}
        value={visit.needs?.moisture?.[site] ?? ''}
        options={MOISTURES}
        onChange={(moisture) => void note(`${words}: ${moisture}`, { moisture: { [site]: moisture } })}
      />
      <NotAsked
        said={Boolean(visit.needs?.moisture?.[site])}
        words={`How wet the ${words} gets`}
        onPress={() => void note(`${words}: not known how wet`, { moisture: { [site]: '' } })}
      />
      <TextField
        label={`Ruled out because (${words})`}
        hint="Leave it blank when the site stays in. Saved when you leave the field."
        value={draft.value}
        maxLength={lengths['needs-noted'].rejected}
        onInput={draft.set}
        onCommit={(value) => void commit(value)}
      />
      {reason === '' ? null : (
        <Button onPress={() => void note(`${words} is taken back in`, { rejected: { [site]: '' } })}>Take the {words} back in</Button>
      )}
    </article>
  );
}

/** What was said, for those who only read. */
function Fixed(props: { readonly visit: Visit }) {
  const { needs, kit = [] } = props.visit;
  if (!needs) return <Banner tone="note">Nothing was noted. A clinician notes needs in an open visit.</Banner>;
  const rows: (readonly [string, string])[] = [
    ...YES_NO.map(({ field, words }) => [words, yesNo(needs[field])] as const),
    ['Base and mount together', BASES.find((one) => one.value === needs.base)?.label ?? ''],
    ...[...COUNTS, ...TASK.filter(({ field }) => needs[field] !== undefined)].map(
      ({ field, words, unit }) => [words, needs[field] === undefined ? '' : `${needs[field]} ${unit}`] as const,
    ),
    ['Course', courseWords(needs.course)],
    ['Site liked best', needs.wish_site ? siteWords(needs.wish_site) : ''],
    ['Control liked best', needs.wish_control ? controlName(needs.wish_control, kit) : ''],
    ...Object.entries(needs.moisture ?? {}).map(([site, moisture]) => [`Moisture, ${siteWords(site)}`, moisture] as const),
    ...Object.entries(needs.rejected ?? {}).map(([site, reason]) => [`Ruled out, ${siteWords(site)}`, reason] as const),
  ];
  return <Facts rows={rows.map(([name, value]) => [name, value === '' ? 'not said' : value])} />;
}
