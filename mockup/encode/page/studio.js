// What models in a page share: light, table, reading them, turning them. Uses THREE and THREE.GLTFLoader.
const mockupStudio = (function () {
  "use strict";

  function colour(rgb) { const c = new THREE.Color(); c.r = rgb[0]; c.g = rgb[1]; c.b = rgb[2]; return c; }

  // The room as the pictures have it: soft boxes, a room that is lighter overhead, the table's light from below.
  // `isKeyed`: with what the points of the key light leave to its soft box.
  function room(light, isBelow, isKeyed) {
    const whole = new THREE.Scene(), made = new THREE.Group();
    made.rotation.z = isBelow ? Math.PI : 0;
    whole.add(made);
    const sky = new THREE.ShaderMaterial({
      side: THREE.BackSide, depthWrite: false,
      uniforms: { high: { value: colour(light.surround) }, low: { value: colour(light.horizon) },
        table: { value: colour(light.table) } },
      vertexShader: "varying vec3 d; void main() { d = position;" +
        " gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }",
      fragmentShader: "varying vec3 d; uniform vec3 high; uniform vec3 low; uniform vec3 table;" +
        " void main() { float h = normalize(d).y;" +
        " gl_FragColor = vec4(mix(table, mix(low, high, max(h, 0.0)), smoothstep(-0.02, 0.0, h)), 1.0); }"
    });
    made.add(new THREE.Mesh(new THREE.SphereGeometry(10, 48, 32), sky));
    for (const box of light.boxes.filter((each) => isKeyed || !each.isKey)) {
      const [c, r, u] = [box.centre, box.right, box.up].map((v) => new THREE.Vector3().fromArray(v));
      const corners = [[-1, -1], [1, -1], [1, 1], [-1, -1], [1, 1], [-1, 1]];
      const points = corners.flatMap(([a, b]) => c.clone().addScaledVector(r, a).addScaledVector(u, b).toArray());
      const shape = new THREE.BufferGeometry();
      shape.setAttribute("position", new THREE.Float32BufferAttribute(points, 3));
      const shine = new THREE.MeshBasicMaterial({ color: colour(box.radiance), side: THREE.DoubleSide,
        toneMapped: false });
      made.add(new THREE.Mesh(shape, shine));
    }
    return whole;
  }

  // Shadows: part of the key light's strength, from points spread over its soft box.
  function keys(light, rig, side) {
    for (const at of light.key.points) {
      const lamp = new THREE.DirectionalLight(0xffffff, 1);
      lamp.color = colour(light.key.irradiance);
      lamp.intensity = 1 / light.key.points.length;
      lamp.position.fromArray(at);
      lamp.castShadow = true;
      lamp.shadow.mapSize.set(side, side);
      lamp.shadow.radius = 8;
      lamp.shadow.normalBias = 0.0004;
      const c = lamp.shadow.camera, s = 0.13;
      c.left = c.bottom = -s; c.right = c.top = s; c.near = 0.05; c.far = 1.5;
      rig.add(lamp, lamp.target);
    }
  }

  // A table lit as the pedal is, fading into the backdrop so that no horizon shows.
  function table(light) {
    const disc = new THREE.RingGeometry(0.0001, 2, 96, 64);
    disc.rotateX(-Math.PI / 2);
    const at = disc.attributes.position, fade = new Float32Array(at.count * 4).fill(1);
    for (let i = 0; i < at.count; i++) {
      fade[i * 4 + 3] = 1 - THREE.MathUtils.smoothstep(Math.hypot(at.getX(i), at.getZ(i)), 0.12, 0.9);
    }
    disc.setAttribute("color", new THREE.BufferAttribute(fade, 4));
    const cloth = new THREE.MeshStandardMaterial({ color: colour(light.ground), roughness: 1, vertexColors: true,
      transparent: true, depthWrite: false });
    const flat = new THREE.Mesh(disc, cloth), made = new THREE.Group();
    flat.receiveShadow = true;
    flat.position.y = -0.0002;
    made.add(flat);
    return made;
  }

  // Where the box keeps the room's light off the table: a soft dark edge round its foot.
  function contact(size) {
    const canvas = document.createElement("canvas"), side = 256;
    canvas.width = canvas.height = side;
    const pen = canvas.getContext("2d");
    pen.shadowColor = "rgba(0,0,0,0.85)";
    pen.shadowBlur = side * 0.09;
    pen.shadowOffsetX = side * 2;
    pen.fillRect(side * 0.2 - side * 2, side * 0.2, side * 0.6, side * 0.6);
    const shape = new THREE.PlaneGeometry(size.x / 0.6, size.z / 0.6);
    shape.rotateX(-Math.PI / 2);
    const dark = new THREE.MeshBasicMaterial({ map: new THREE.CanvasTexture(canvas), transparent: true,
      depthWrite: false, opacity: 0.75 });
    const made = new THREE.Mesh(shape, dark);
    made.position.y = 0.0001;
    made.renderOrder = 1;
    return made;
  }

  async function unpack(node) {
    const text = atob(node.textContent.trim());
    const bytes = Uint8Array.from(text, (letter) => letter.charCodeAt(0));
    const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
    return new Response(stream).arrayBuffer();
  }

  // The one that draws, and the light of the room about the models.
  function open(light) {
    THREE.ShaderChunk.tonemapping_pars_fragment = THREE.ShaderChunk.tonemapping_pars_fragment.replace(
      "vec3 CustomToneMapping( vec3 color ) { return color; }", light.view_transform);
    const renderer = new THREE.WebGLRenderer({ antialias: true, preserveDrawingBuffer: true });
    renderer.outputEncoding = THREE.sRGBEncoding;
    renderer.physicallyCorrectLights = true;
    renderer.toneMapping = THREE.CustomToneMapping;
    renderer.toneMappingExposure = light.exposure;
    renderer.shadowMap.enabled = true;
    renderer.shadowMap.type = THREE.PCFShadowMap;
    renderer.shadowMap.autoUpdate = false; // the lights stand still, so shadows change with the model only
    const maker = new THREE.PMREMGenerator(renderer), made = {};
    const environment = (isBelow, isKeyed) => {
      const name = [isBelow, isKeyed].join();
      if (!made[name]) made[name] = maker.fromScene(room(light, isBelow, isKeyed), 0, 0.01, 20).texture;
      return made[name];
    };
    const keyed = colour(light.key.irradiance).multiplyScalar(1 / (Math.PI * light.key.share));
    return { renderer, environment, keyed, share: light.key.share, rough: [], isTurned: false };
  }

  // A place for one model: the lights, the room mirrored in it; `side` is how fine each shadow is.
  function stand(light, opened, side) {
    const scene = new THREE.Scene(), rig = new THREE.Group(), place = { scene, rig, isTurned: null };
    scene.background = new THREE.Color(light.behind);
    keys(light, rig, side);
    scene.add(rig);
    turnRoom(opened, place, false);
    return place;
  }

  // Seen from below, the pedal lies turned over in the same room, as in the picture with the lid off: the lights are
  // where they were, over it. So the room turns about the axis that runs away from the viewer, and keeps its front.
  function turnRoom(opened, place, isBelow) {
    if (place.isTurned === isBelow) return false;
    place.isTurned = opened.isTurned = isBelow;
    place.scene.environment = opened.environment(isBelow, true);
    for (const each of opened.rough) each.envMap = opened.environment(isBelow, false);
    place.rig.rotation.z = isBelow ? Math.PI : 0;
    return true;
  }

  // Inside the open box the room is seen through the opening alone; the rest of what rough metal mirrors there are
  // walls. A lobe of slope w, twice GGX's alpha for rays, is that wide where it leaves: its share of the opening
  // follows from GGX's own slopes, along each side x / sqrt(x^2 + w^2) / 2 + 1/2. `bounce` is how much of the room's
  // light walls send back, by eye beside path traced pictures; `caveKey` is the key light on them, which a room without
  // its soft box lacks.
  const caveShader = "uniform vec3 caveLow; uniform vec3 caveHigh; uniform vec3 caveKey;" +
    " float caveSpan(float a, float b, float w) {" +
    "  return 0.5 * (b * inversesqrt(b * b + w * w) - a * inversesqrt(a * a + w * w)); }" +
    " vec3 caved(vec3 seen, vec3 way, float wide) {" +
    "  vec3 p = transpose(mat3(viewMatrix)) * -vViewPosition + cameraPosition;" +
    "  float deep = p.y - caveLow.y; if (deep <= 0.0) return seen;" +
    "  float far = deep / max(-way.y, 0.05), w = wide * far + 0.001; vec2 at = p.xz + way.xz * far;" +
    "  float open = caveSpan(caveLow.x - at.x, caveHigh.x - at.x, w) *" +
    "   caveSpan(caveLow.z - at.y, caveHigh.z - at.y, w);" +
    "  const float bounce = 0.42;" +
    "  vec3 lit = textureCubeUV(envMap, vec3(0.0, -1.0, 0.0), 1.0).rgb * envMapIntensity + caveKey;" +
    "  return mix(bounce * lit, seen, open); }\n";

  // There the walls keep much of the key light out, which only its points know: rough surfaces, in which no single
  // point stands out, are lit by them alone, as strongly as by points and soft box together.
  function caved(material, cave, opened) {
    const made = material.clone(), isRough = made.roughness > 0.3;
    if (isRough) {
      made.envMap = opened.environment(opened.isTurned, false);
      opened.rough.push(made);
    }
    made.onBeforeCompile = (shader) => {
      shader.uniforms.caveLow = { value: cave.min };
      shader.uniforms.caveHigh = { value: cave.max };
      shader.uniforms.caveKey = { value: opened.keyed.clone().multiplyScalar(isRough ? 1 : 0) };
      const chunk = THREE.ShaderChunk.envmap_physical_pars_fragment
        .replace("vec3 getIBLIrradiance(", caveShader + "vec3 getIBLIrradiance(")
        .replace("return PI * envMapColor.rgb * envMapIntensity;",
          "return PI * caved(envMapColor.rgb * envMapIntensity, worldNormal, 1.0);")
        .replace("return envMapColor.rgb * envMapIntensity;",
          "return caved(envMapColor.rgb * envMapIntensity, reflectVec, 2.0 * roughness * roughness);");
      const whole = "#include <lights_fragment_end>\n" + (isRough ? " reflectedLight.directDiffuse *= KEY;" +
        " reflectedLight.directSpecular *= KEY;" : "").replaceAll("KEY", (1 / opened.share).toFixed(4));
      shader.fragmentShader = shader.fragmentShader.replace("#include <envmap_physical_pars_fragment>", chunk)
        .replace("#include <lights_fragment_end>", whole);
    };
    made.customProgramCacheKey = () => "cave" + isRough;
    return made;
  }

  // What lies in the box's hollow: its bare inside, the parts behind the panel.
  function hollowed(model, opened) {
    const inner = named(model, "inner");
    if (!inner) return;
    const cave = new THREE.Box3().setFromObject(inner), made = new Map();
    const dress = (each) => {
      if (!each.isMesh) return;
      if (!made.has(each.material)) made.set(each.material, caved(each.material, cave, opened));
      each.material = made.get(each.material);
    };
    inner.traverse(dress);
    const behind = named(model, "inside");
    if (behind) behind.traverse(dress);
  }

  // The models of a file as it was packed into the page, one for each of its scenes.
  async function read(node, opened) {
    const data = await unpack(node);
    const found = await new Promise((done, no) => new THREE.GLTFLoader().parse(data, "", done, no));
    for (const scene of found.scenes) scene.traverse((each) => {
      if (!each.isMesh) return;
      each.castShadow = each.receiveShadow = true;
      if (each.material.map) each.material.map.anisotropy = opened.renderer.capabilities.getMaxAnisotropy();
    });
    for (const scene of found.scenes) hollowed(scene, opened);
    return found.scenes;
  }

  // A model's node by the name it has in the file: the loader lets no two in a file have the same one.
  function named(model, name) {
    let found;
    model.traverse((each) => { if (!found && each.userData.name === name) found = each; });
    return found;
  }

  // The ground under a model.
  function under(light, model) {
    const made = table(light), box = named(model, "box");
    made.add(contact(new THREE.Box3().setFromObject(box || model).getSize(new THREE.Vector3())));
    return made;
  }

  // The camera at an eye (angles and how near), so that a ball of radius `reach` about `middle` fits.
  function aim(camera, eye, middle, reach, aspect) {
    camera.aspect = aspect;
    const half = Math.atan(Math.tan(camera.fov * Math.PI / 360) * Math.min(1, aspect));
    const away = reach / Math.sin(half) * 0.98 / eye.zoom;
    const flat = Math.sin(eye.polar);
    camera.position.set(middle.x + away * flat * Math.sin(eye.azimuth), middle.y + away * Math.cos(eye.polar),
      middle.z + away * flat * Math.cos(eye.azimuth));
    // Where the eye would move to next on its way up: so it may pass straight below and go on, without a jump.
    const up = -Math.cos(eye.polar);
    camera.up.set(up * Math.sin(eye.azimuth), flat, up * Math.cos(eye.azimuth));
    camera.lookAt(middle);
    camera.updateProjectionMatrix();
  }

  // Mouse, finger, wheel and keys on a canvas that is turned and brought closer.
  function hold(canvas, turn, zoom) {
    const held = new Map();
    canvas.addEventListener("pointerdown", (event) => {
      canvas.setPointerCapture(event.pointerId);
      held.set(event.pointerId, [event.clientX, event.clientY]);
    });
    canvas.addEventListener("pointermove", (event) => {
      const before = held.get(event.pointerId);
      if (!before) return;
      if (held.size === 2) {
        const other = [...held].find(([id]) => id !== event.pointerId)[1];
        const was = Math.hypot(before[0] - other[0], before[1] - other[1]);
        zoom(Math.hypot(event.clientX - other[0], event.clientY - other[1]) / Math.max(was, 1));
      } else {
        turn((before[0] - event.clientX) * 0.008, (before[1] - event.clientY) * 0.008);
      }
      held.set(event.pointerId, [event.clientX, event.clientY]);
    });
    const drop = (event) => held.delete(event.pointerId);
    canvas.addEventListener("pointerup", drop);
    canvas.addEventListener("pointercancel", drop);
    canvas.addEventListener("wheel", (event) => {
      if (!event.ctrlKey && document.activeElement !== canvas) return; // the page scrolls until the model is clicked
      event.preventDefault();
      zoom(Math.exp(-event.deltaY * 0.0015));
    }, { passive: false });
    const keys = { ArrowLeft: [-0.15, 0], ArrowRight: [0.15, 0], ArrowUp: [0, -0.15], ArrowDown: [0, 0.15] };
    canvas.addEventListener("keydown", (event) => {
      if (keys[event.key]) { event.preventDefault(); turn(...keys[event.key]); }
      if (event.key === "+" || event.key === "=") zoom(1.15);
      if (event.key === "-") zoom(1 / 1.15);
    });
  }

  // Where the eye is and what the page's buttons show; `draw` is told whether more than the eye has changed.
  function steer(host, light, draw) {
    const shown = { hardware: true, lid: true }; // by button
    const groups = { hardware: "hardware", inside: "hardware", lid: "lid" }; // node of a model: its button
    const home = { azimuth: light.view.azimuth, polar: light.view.polar, zoom: 1 };
    const eye = Object.assign({}, home);

    function put(name, isShown) {
      shown[name] = isShown;
      host.querySelector('[data-group="' + name + '"]').setAttribute("aria-pressed", String(isShown));
      draw(true);
    }

    function turn(azimuth, polar) {
      eye.azimuth += Math.sin(eye.polar) < 0 ? -azimuth : azimuth; // what is upside down follows the hand too
      eye.polar = Math.min(Math.max(eye.polar + polar, 0.02), Math.PI * 1.5); // on past straight below
      draw();
    }

    function zoom(factor) { eye.zoom = Math.min(Math.max(eye.zoom * factor, 0.6), 6); draw(); }

    function dress(model) {
      for (const [name, button] of Object.entries(groups)) {
        const node = named(model, name);
        if (node) node.visible = shown[button];
      }
    }

    function begin() {
      for (const button of host.querySelectorAll("[data-group]")) {
        button.addEventListener("click", () => put(button.dataset.group, !shown[button.dataset.group]));
      }
      for (const button of host.querySelectorAll("[data-view]")) {
        button.addEventListener("click", () => {
          const [azimuth, polar] = button.dataset.view.split(",").map(Number);
          Object.assign(eye, home, { azimuth, polar });
          put("lid", Math.cos(polar) > 0);
        });
      }
    }

    return { eye, turn, zoom, dress, begin };
  }

  return { open, stand, turnRoom, steer, read, under, aim, hold };
})();
