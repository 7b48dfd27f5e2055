# cmake -DTTL=dsp.ttl -DBUS=Room -P Lv2SideChain.cmake: adds lv2:isSideChain to every input port of that bus, and
# pg:sideChainOf to its group. Runs after JUCE has written the file. Fails loudly when the file is not as expected: a
# bundle without the mark compares the spot with itself.
file(READ "${TTL}" text)
if(text MATCHES "lv2:isSideChain")
    return()
endif()

string(REGEX MATCH "plug:(input_group_[0-9]+)[ \t\r\n]+a pg:InputGroup ;[ \t\r\n]+lv2:name \"${BUS}\"" found "${text}")
if(NOT found)
    message(FATAL_ERROR "${TTL}: no input group named \"${BUS}\" to mark as side-chain")
endif()
set(group "plug:${CMAKE_MATCH_1}")

set(port "pg:group ${group} ;\n")
string(FIND "${text}" "${port}" at)
if(at EQUAL -1)
    message(FATAL_ERROR "${TTL}: no port belongs to the group ${group}")
endif()
string(REPLACE "${port}" "${port}\t\tlv2:portProperty lv2:isSideChain ;\n" text "${text}")
string(REPLACE "${group}\n\ta pg:InputGroup ;\n" "${group}\n\ta pg:InputGroup ;\n\tpg:sideChainOf plug:input_group_1 ;\n"
    text "${text}")
file(WRITE "${TTL}" "${text}")
