/** The bent wrist as its figures count it, seen from the side of the thumb. */
const bends = [-20, 0, 20] as const;

/** A forearm with the hand towards its back, straight and towards the palm: what minus, 0 and plus mean. */
export function WristPicture() {
  return (
    <svg
      class="picture wrist-picture"
      viewBox="0 0 384 92"
      role="img"
      aria-label="The wrist: minus is towards the back of the hand, 0 straight, plus towards the palm."
    >
      {bends.map((bend, at) => (
        <g key={bend} transform={`translate(${128 * at + 4} 8)`}>
          <path class="p-cloth" d="M0 28H40V56H0" />
          <path class="p-skin" d="M40 30H54V54H40Z" />
          <g transform={`rotate(${bend} 54 42)`}>
            <path class="p-skin" d="M54 30C68 26 80 28 90 33L112 38C117 40 117 46 112 47L86 54C74 57 64 56 54 54Z" />
            <path class="p-skin" d="M60 33C66 24 78 22 86 27C89 30 86 35 82 34C76 33 72 36 68 42" />
          </g>
          <path class="p-thin p-dashed" d="M54 42H118" />
          <text class="p-letter" x="20" y="20" font-size="18">
            {bend < 0 ? `−${-bend}°` : bend > 0 ? `+${bend}°` : '0'}
          </text>
        </g>
      ))}
    </svg>
  );
}
