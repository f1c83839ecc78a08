import { useMemo } from 'preact/hooks';
import { LevelDoor, SyncBadge } from '../../ui';
import { usePlace } from '../../ui/address';
import { Icon, type IconName } from '../../ui/icon';
import { effectiveLevel } from '../../ui/result/level-head';
import { inUseWords } from '../../ui/visit/in-use';
import { links } from '../../ui/visit/links';
import { openVisit, type VisitView } from '../../lib';
import { PartRows } from './part-rows';
import { chooseRows, measureRows, type VisitRow } from './visit-rows';

function RailLevel(props: { readonly view: VisitView; readonly path: string }) {
  const { visit, result, provisional, sync } = props.view;
  const href = links.level(visit.id);
  const withWhat = visit.setup === undefined ? '' : inUseWords(visit.setup);
  return (
    <div class="rail-top">
      <a class="rail-level" href={href} aria-current={props.path === href ? 'page' : undefined}>
        {result === null ? (
          'Level: being worked out'
        ) : (
          <LevelDoor level={effectiveLevel(result)} interim={result.interim} provisional={provisional} />
        )}
        {withWhat === '' ? null : <span class="rail-with">{withWhat}</span>}
      </a>
      <SyncBadge state={sync} />
    </div>
  );
}

function RailRows(props: {
  readonly title: string;
  readonly rows: readonly (VisitRow & { readonly icon?: IconName })[];
  readonly path: string;
}) {
  // With most answers nothing of it changes.
  return useMemo(() => drawnRows(props), [JSON.stringify(props)]);
}

function drawnRows(props: Parameters<typeof RailRows>[0]) {
  return (
    <section class="rail-group" aria-label={props.title}>
      <h2 class="rail-title">{props.title}</h2>
      <ul class="rail-list">
        {props.rows.map((row) => (
          <li key={row.href}>
            <a class="rail-row" href={row.href} aria-current={props.path === row.href ? 'page' : undefined}>
              {row.icon === undefined ? null : <Icon name={row.icon} />}
              <span class="rail-name">{row.title}</span>
              <small>{row.state}</small>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

function aboutRows(view: VisitView): readonly (VisitRow & { readonly icon: IconName })[] {
  const { visit } = view;
  return [
    { href: links.notes(visit.id), title: 'Visit notes', state: '', icon: 'person' },
    { href: links.sign(visit.id), title: 'Sign the visit', state: visit.signed === undefined ? '' : 'signed', icon: 'tick' },
    { href: '/', title: 'Today', state: '', icon: 'today' },
  ];
}

/** The visit at the side of its screens: map and progress in one. It stays while screens change. */
export function VisitRail(props: { readonly id: string }) {
  const view = useMemo(() => openVisit(props.id), [props.id]).value;
  const { path } = usePlace();
  if (view === null || view.blind) return null;
  const missing = view.result?.missing?.length;
  const toMissing = links.missing(props.id);
  return (
    <nav class="rail" aria-label="Parts of the visit">
      <RailLevel view={view} path={path} />
      <a class="rail-row rail-missing" href={toMissing} aria-current={path === toMissing ? 'page' : undefined}>
        <Icon name="missing" />
        <span class="rail-name">{missing === undefined ? 'What is missing' : `Missing: ${missing}`}</span>
      </a>
      <PartRows view={view} path={path} />
      <RailRows title="Measure and drive" rows={measureRows(view)} path={path} />
      <RailRows title="Choose and set up" rows={chooseRows(view)} path={path} />
      <RailRows title="The visit" rows={aboutRows(view)} path={path} />
    </nav>
  );
}
