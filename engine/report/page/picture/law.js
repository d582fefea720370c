// The arithmetic of a picture. The law is the brief's reader's (engine/brief/read_picture.cpp), of which this is a copy for
// the eye: the layout file holds pixels, and what the reader makes of them counts. tests/app/picture_test.py holds the
// figures of this page against those of the reader.
//
// Pixels: x to the right, y down, [0, 0] the upper left corner of the picture as the browser shows it. Millimetres are in
// frame axes: from the bottom bracket, x forward, y up.
const law = (function () {
  function distance(a, b) {
    return Math.sqrt((b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y));
  }

  // mm per pixel, the least-squares fit of lengths L [mm] over P [px]: ΣLP/ΣP²; 0 without any.
  function scale(known) {
    let lengths = 0, squares = 0;
    known.forEach(function (k) {
      lengths += k.length * k.pixels;
      squares += k.pixels * k.pixels;
    });
    return squares > 0 ? lengths / squares : 0;
  }

  // The frame's axes in the picture, unit vectors, from the two ends of a level line; null when they are one point.
  function axes(a, b, facesLeft) {
    const size = distance(a, b);
    if (size < 1) return null;
    const turned = (b.x - a.x < 0) === facesLeft ? 1 : -1;
    const forward = { x: turned * (b.x - a.x) / size, y: turned * (b.y - a.y) / size };
    // The picture's y runs down. Facing left, forward points left and up is still up.
    const up = facesLeft ? { x: -forward.y, y: forward.x } : { x: forward.y, y: -forward.x };
    return { forward: forward, up: up };
  }

  // A pixel in millimetres.
  function place(p, centre, frame, mmPerPixel) {
    const x = p.x - centre.x, y = p.y - centre.y;
    return { x: (x * frame.forward.x + y * frame.forward.y) * mmPerPixel,
      y: (x * frame.up.x + y * frame.up.y) * mmPerPixel };
  }

  // By how much a distance between two points may be read wrong, each off by `reading` along both axes.
  function spread(reading) {
    return 2 * Math.sqrt(2) * reading;
  }

  return { distance: distance, scale: scale, axes: axes, place: place, spread: spread };
})();
