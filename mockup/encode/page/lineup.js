// Models beside each other that turn as one. Uses THREE and mockupStudio; draws only when something changed.
(function () {
  "use strict";
  const studio = mockupStudio;
  const host = document.getElementById("lineup");
  const stages = Array.from(host.querySelectorAll(".stage"));
  const light = JSON.parse(document.getElementById("studio").textContent);
  const packed = document.querySelector("script.model");
  const stands = []; // by column: its own scene with its own shadows, so that turning redraws no shadow
  const middle = new THREE.Vector3();
  const steered = studio.steer(host, light, draw), eye = steered.eye;
  let opened, renderer, camera, reach = 0, isWaiting = false;

  function fail(why) {
    host.dataset.state = "failed";
    host.querySelector(".says").textContent = why;
  }

  function canvasIn(stage) {
    const canvas = document.createElement("canvas");
    canvas.setAttribute("role", "img");
    canvas.setAttribute("aria-label", stage.dataset.label);
    canvas.tabIndex = 0;
    stage.appendChild(canvas);
    return canvas;
  }

  // One distance for all: the largest pedal fits, a smaller one looks smaller.
  function measure() {
    const all = new THREE.Box3();
    for (const each of stands) all.expandByObject(each.model);
    all.getCenter(middle);
    reach = all.getBoundingSphere(new THREE.Sphere()).radius;
  }

  function draw(isChanged) {
    if (isChanged) for (const each of stands) each.isStale = true;
    if (isWaiting) return;
    isWaiting = true;
    requestAnimationFrame(() => { isWaiting = false; drawAll(); });
  }

  function drawAll() {
    const ratio = Math.min(window.devicePixelRatio || 1, 2);
    let triangles = 0;
    for (const each of stands) {
      const width = Math.round(each.stage.clientWidth * ratio), height = Math.round(each.stage.clientHeight * ratio);
      if (!width || !height) continue;
      steered.dress(each.model);
      const size = renderer.getSize(new THREE.Vector2());
      if (size.x !== width || size.y !== height) renderer.setSize(width, height, false);
      if (each.canvas.width !== width || each.canvas.height !== height) {
        each.canvas.width = width;
        each.canvas.height = height;
      }
      studio.aim(camera, eye, middle, reach, width / height);
      const isBelow = Math.cos(eye.polar) < 0, isRelit = studio.turnRoom(opened, each.place, isBelow);
      each.ground.visible = !isBelow;
      renderer.shadowMap.needsUpdate = each.isStale || isRelit;
      renderer.render(each.place.scene, camera);
      each.isStale = false;
      each.canvas.getContext("2d").drawImage(renderer.domElement, 0, 0);
      triangles += renderer.info.render.triangles;
    }
    host.dataset.triangles = String(triangles);
    if (stands.length === stages.length) host.dataset.state = "ready";
  }

  function controls() {
    steered.begin();
    const watch = new ResizeObserver(() => draw());
    for (const stage of stages) watch.observe(stage);
  }

  (async function () {
    try {
      opened = studio.open(light);
      renderer = opened.renderer;
      renderer.setPixelRatio(1);
      renderer.domElement.addEventListener("webglcontextlost",
        () => fail("The browser has dropped the 3D view; reload the page."));
      camera = new THREE.PerspectiveCamera(light.view.fov, 1, 0.02, 10);
      const side = stages.length > 4 ? 512 : 1024; // of each shadow: many columns share what a phone has
      controls();
      const models = await studio.read(packed, opened);
      for (const [index, stage] of stages.entries()) {
        const model = models[index];
        const place = studio.stand(light, opened, side), ground = studio.under(light, model);
        place.scene.add(model, ground);
        const canvas = canvasIn(stage);
        studio.hold(canvas, steered.turn, steered.zoom);
        stands.push({ stage, canvas, place, model, ground, isStale: true });
        measure();
        draw();
      }
    } catch (error) {
      fail("This browser cannot show the models (" + (error && error.message || error) + "); the pictures show the same.");
    }
  })();
})();
