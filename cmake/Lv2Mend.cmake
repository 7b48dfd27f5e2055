# cmake -DBUNDLE=Tarry.lv2 -DBUS=Room [-DREPLACED_BY=urn:...] -P Lv2Mend.cmake: mends what JUCE wrote, after each build. Fails loudly when the file is
# not as expected: a bundle without the mark would compare the spot with itself.
set(TTL "${BUNDLE}/dsp.ttl")
file(READ "${TTL}" text)

# 1. lv2:isSideChain on every port of the bus, pg:sideChainOf on its group.
if(NOT text MATCHES "lv2:isSideChain")
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
    string(REPLACE "${group}\n\ta pg:InputGroup ;\n"
        "${group}\n\ta pg:InputGroup ;\n\tpg:sideChainOf plug:input_group_1 ;\n" text "${text}")
endif()

# 2. Switches. JUCE gives port properties to parameters, which are no ports (lv2_validate counts two errors for each); a
# parameter that is a switch has the range atom:Bool instead. JUCE reads both.
string(REGEX REPLACE
    "atom:Float ;(\n\tlv2:default [01] ;\n\tlv2:minimum 0 ;\n\tlv2:maximum 1[ \t]*;)\n\tlv2:portProperty lv2:enumeration , lv2:toggled ;"
    "atom:Bool ;\\1" text "${text}")

# 3. Choices would be published with values from 0 to 1 whatever their range (JUCE issue 1272, mended in 7.0.8): we have
# none, and must not get one unawares.
if(text MATCHES "lv2:portProperty lv2:enumeration")
    message(FATAL_ERROR "${TTL}: a choice parameter; use a switch or a stepped number")
endif()
# 4. The presets speak of a property that JUCE does not describe.
if(NOT text MATCHES "plug:Program")
    string(APPEND text "\nplug:Program\n\ta lv2:Parameter , rdf:Property ;\n\trdfs:label \"Program\" ;\n\trdfs:range xsd:int .\n")
    foreach(prefix "rdf: <http://www.w3.org/1999/02/22-rdf-syntax-ns#>" "xsd: <http://www.w3.org/2001/XMLSchema#>")
        string(REGEX MATCH "^[a-z]+:" name "${prefix}")
        if(NOT text MATCHES "@prefix ${name}")
            string(PREPEND text "@prefix ${prefix} .\n")
        endif()
    endforeach()
endif()
# 5. The authors have neither a page nor a mailbox of their own: say nothing rather than something empty.
string(REGEX REPLACE "\t\tfoaf:(homepage|mbox) <[^>]*> ;\n" "" text "${text}")
file(WRITE "${TTL}" "${text}")

# 6. A URI of before: hosts still load it, and know what has taken its place.
if(REPLACED_BY)
    set(manifest "${BUNDLE}/manifest.ttl")
    file(READ "${manifest}" text)
    if(NOT text MATCHES "isReplacedBy")
        string(REPLACE "\ta lv2:Plugin ;\n" "\ta lv2:Plugin ;\n\t<http://purl.org/dc/terms/isReplacedBy> <${REPLACED_BY}> ;\n" text "${text}")
        file(WRITE "${manifest}" "${text}")
    endif()
endif()
