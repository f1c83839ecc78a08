/** What the marks of a rose mean. */
export function RoseKey() {
  return (
    <ul class="rose-key" aria-label="What is drawn">
      <li>
        <svg viewBox="0 0 34 22" aria-hidden="true">
          <rect class="rose-rested" x="1.5" y="1.5" width="31" height="19" rx="6" stroke-width="2" />
        </svg>
        rested, outside
      </li>
      <li>
        <svg viewBox="0 0 34 22" aria-hidden="true">
          <rect class="rose-under rose-tired" x="1.5" y="1.5" width="31" height="19" rx="6" stroke-width="2" />
          <path class="rose-line" d="M6 20L22 2M14 20L30 2" stroke-width="2.6" />
        </svg>
        tired, inside
      </li>
      <li>
        <svg viewBox="0 0 34 22" aria-hidden="true">
          <path class="rose-line" d="M9 3h16M17 3v16M9 19h16" stroke-width="2.6" />
        </svg>
        spread
      </li>
      <li>
        <svg viewBox="0 0 34 22" aria-hidden="true">
          <circle class="rose-line" cx="17" cy="11" r="8" stroke-width="3.4" />
        </svg>
        what it asks
      </li>
    </ul>
  );
}
