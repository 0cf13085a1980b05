// How far apart two colours look: CIEDE2000 (CIE 142-2001), as seen with full colour vision, with
// without red or green cones (Machado, Oliveira, Fernandes 2009), without blue ones, and in greys.
// No globals: whoever wants to know sends the event "stripewright:difference" to the document with
// detail.colours (two "#rrggbb") or detail.labs (two [L, a, b]), and reads detail.seen or
// detail.difference when dispatchEvent returns.
(() => {
  "use strict";

  const rad = Math.PI / 180;
  const hue = (a, b) => (a === 0 && b === 0 ? 0 : (Math.atan2(b, a) / rad + 360) % 360);

  // Names and order follow Sharma, Wu, Dalal, "The CIEDE2000 color-difference formula", 2005.
  const ciede2000 = ([L1, a1, b1], [L2, a2, b2]) => {
    const pow7 = (x) => x ** 7;
    const Cab = (Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2;
    const G = 0.5 * (1 - Math.sqrt(pow7(Cab) / (pow7(Cab) + pow7(25))));
    const [ap1, ap2] = [a1 * (1 + G), a2 * (1 + G)];
    const [Cp1, Cp2] = [Math.hypot(ap1, b1), Math.hypot(ap2, b2)];
    const [hp1, hp2] = [hue(ap1, b1), hue(ap2, b2)];
    const grey = Cp1 * Cp2 === 0;

    let dh = grey ? 0 : hp2 - hp1;
    if (dh > 180) dh -= 360;
    if (dh < -180) dh += 360;
    const dL = L2 - L1;
    const dC = Cp2 - Cp1;
    const dH = 2 * Math.sqrt(Cp1 * Cp2) * Math.sin((dh / 2) * rad);

    let h = hp1 + hp2;
    if (!grey) {
      if (Math.abs(hp1 - hp2) > 180) h += h < 360 ? 360 : -360;
      h /= 2;
    }
    const L = (L1 + L2) / 2;
    const C = (Cp1 + Cp2) / 2;
    const T = 1 - 0.17 * Math.cos((h - 30) * rad) + 0.24 * Math.cos(2 * h * rad) +
      0.32 * Math.cos((3 * h + 6) * rad) - 0.2 * Math.cos((4 * h - 63) * rad);
    const SL = 1 + (0.015 * (L - 50) ** 2) / Math.sqrt(20 + (L - 50) ** 2);
    const SC = 1 + 0.045 * C;
    const SH = 1 + 0.015 * C * T;
    const RT = -Math.sin(60 * Math.exp(-(((h - 275) / 25) ** 2)) * rad) *
      2 * Math.sqrt(pow7(C) / (pow7(C) + pow7(25)));
    return Math.sqrt((dL / SL) ** 2 + (dC / SC) ** 2 + (dH / SH) ** 2 + RT * (dC / SC) * (dH / SH));
  };

  const linear = (hex) => [1, 3, 5].map((at) => {
    const part = parseInt(hex.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4; // IEC 61966-2-1
  });

  const times = (matrix, v) => matrix.map((row) => row[0] * v[0] + row[1] * v[1] + row[2] * v[2]);

  const XYZ = [ // of linear sRGB (IEC 61966-2-1)
    [0.4123908, 0.3575843, 0.1804808],
    [0.212639, 0.7151687, 0.0721923],
    [0.0193308, 0.1191948, 0.9505322],
  ];
  const WHITE = [0.9504559, 1, 1.0890578]; // D65, the white of sRGB

  const lab = (rgb) => {
    const [x, y, z] = times(XYZ, rgb).map((part, at) => {
      const t = part / WHITE[at];
      return t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116;
    });
    return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
  };

  const DEFICIENCIES = {
    protan: [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216],
      [-0.003882, -0.048116, 1.051998]],
    deutan: [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413],
      [-0.01182, 0.04294, 0.968881]],
  };

  // Without blue cones: a plane each side of the neutral axis (Brettel, Viénot, Mollon 1997).
  const TRITAN = {
    split: [1.000000, -0.714624, -0.285376],
    below: [[0.936784, 0.189788, -0.126572], [0.061534, 0.815262, 0.123204], [-0.375608, 1.127654, 0.247954]],
    above: [[1.012773, 0.135484, -0.148257], [-0.012433, 0.868121, 0.144312], [0.075895, 0.805, 0.119106]],
  };
  const tritan = (rgb) => {
    const side = TRITAN.split[0] * rgb[0] + TRITAN.split[1] * rgb[1] + TRITAN.split[2] * rgb[2];
    return times(side > 0 ? TRITAN.above : TRITAN.below, rgb);
  };

  const seen = (colours) => {
    const rgbs = colours.map(linear);
    const labs = rgbs.map(lab);
    const found = {
      normal: ciede2000(...labs),
      grey: ciede2000(...labs.map(([L]) => [L, 0, 0])),
    };
    for (const [name, matrix] of Object.entries(DEFICIENCIES)) {
      found[name] = ciede2000(...rgbs.map((rgb) => lab(times(matrix, rgb))));
    }
    found.tritan = ciede2000(...rgbs.map((rgb) => lab(tritan(rgb))));
    return found;
  };

  document.addEventListener("stripewright:difference", ({ detail }) => {
    if (detail.labs) detail.difference = ciede2000(...detail.labs);
    if (detail.colours) detail.seen = seen(detail.colours);
  });
})();
