-- One act in an Ardour session: ardour7-lua ardour.lua FOLDER NAME make|insert|play|loop|preset [FORMAT ID MEASURE].
-- MEASURE: what the host calls the parameter. Prints "NAME VALUE" lines for ardour.sh.
local dir, name, act, format, id, measure = arg[1], arg[2], arg[3], arg[4], arg[5], arg[6]
local by = ARDOUR.TransportRequestSource.TRS_UI

local function save (s)
  s:save_state ("", false, false, false, false, false)
  sleep (1)
end

if act == "make" then
  local s = create_session (dir, name, 48000)
  for _, track in ipairs { "Room", "Spot" } do
    s:new_audio_track (1, 2, nil, 1, track, ARDOUR.PresentationInfo.max_order, ARDOUR.TrackMode.Normal, true, false)
  end
  save (s)
  s = nil
  collectgarbage ()
  close_session ()
  return
end

local s = load_session (dir, name)
local spot = s:route_by_name ("Spot")

if act == "insert" then
  local room, master = s:route_by_name ("Room"), s:master_out ()
  room:output ():disconnect_all (nil)
  spot:output ():disconnect_all (nil)
  for c = 0, 1 do
    local from = math.min (c, spot:output ():n_ports ():n_audio () - 1)
    spot:output ():audio (from):connect (master:input ():audio (c):name ())
  end
  local p = ARDOUR.LuaAPI.new_plugin (s, id, ARDOUR.PluginType[format], "")
  assert (not p:isnil () and spot:add_processor_by_index (p, 0, nil, true) == 0 and spot:add_sidechain (p))
  local side = p:to_plugininsert ():sidechain_input ()
  for c = 0, side:n_ports ():n_audio () - 1 do
    local from = math.min (c, room:output ():n_ports ():n_audio () - 1)
    room:output ():audio (from):connect (side:nth (c):name ())
  end
  p, side, room, master = nil, nil, nil, nil
else
  local p = spot:nth_plugin (0)
  local control
  for prm in p:to_automatable ():all_automatable_params ():iter () do
    local ac = p:to_automatable ():automation_control (prm, true)
    if ac:name () == measure or ac:name ():match ("[:#]([%w_]+)$") == measure then control = ac end
  end
  assert (control, "no control " .. measure)
  local function roll (seconds)
    s:request_roll (by)
    sleep (seconds)
  end
  s:request_locate (0, false, ARDOUR.LocateTransportDisposition.MustStop, by)
  sleep (1)
  if act == "play" then roll (7) end
  if act == "loop" then
    s:request_play_loop (true, true)
    roll (6)
    s:request_play_loop (false, true)
  end
  if act == "preset" then
    roll (1)
    local plugin = p:to_plugininsert ():plugin (0)
    for _, wanted in ipairs { "Late spot", "Hard sticks", "Late spot" } do
      plugin:load_preset (plugin:preset_by_label (wanted))
      sleep (1)
    end
  end
  s:request_stop (false, false, by)
  sleep (1)
  print ("measure", control:get_value ())
  print ("latency", spot:signal_latency ())
  p, control = nil, nil
end
save (s)
spot, s = nil, nil
collectgarbage ()
close_session ()
