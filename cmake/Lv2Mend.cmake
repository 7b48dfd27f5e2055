# cmake -DBUNDLE=… (and what Lv2.cmake passes) -P Lv2Mend.cmake: mends what JUCE wrote, after each build. Fails loudly when
# a file is not as expected: a bundle without the side-chain's mark would compare the spot with itself. Run again on its
# own result it changes nothing.
foreach(list PORTS UNITS STEPS)
    string(REPLACE "|" ";" ${list} "${${list}}")
endforeach()

# must_replace(<variable> <from> <to>): `from` has to be there.
function(must_replace variable from to)
    string(FIND "${${variable}}" "${from}" at)
    if(at EQUAL -1)
        message(FATAL_ERROR "${BUNDLE}: expected to find: ${from}")
    endif()
    string(REPLACE "${from}" "${to}" changed "${${variable}}")
    set(${variable} "${changed}" PARENT_SCOPE)
endfunction()

# ------------------------------------------------------------------------------------------------------------ dsp.ttl
file(READ "${BUNDLE}/dsp.ttl" text)
if(NOT text MATCHES "doap:license")
    # 1. lv2:isSideChain on every port of the bus, pg:sideChainOf on its group.
    string(REGEX MATCH "plug:(input_group_[0-9]+)[ \t\r\n]+a pg:InputGroup ;[ \t\r\n]+lv2:name \"${BUS}\"" found "${text}")
    if(NOT found)
        message(FATAL_ERROR "${BUNDLE}: no input group named \"${BUS}\" to mark as side-chain")
    endif()
    set(group "plug:${CMAKE_MATCH_1}")
    must_replace(text "pg:group ${group} ;\n" "pg:group ${group} ;\n\t\tlv2:portProperty lv2:isSideChain ;\n")
    must_replace(text "${group}\n\ta pg:InputGroup ;\n"
        "${group}\n\ta pg:InputGroup ;\n\tpg:sideChainOf plug:input_group_1 ;\n")

    # 2. Names that a patchbay can show. JUCE counts inputs and outputs each from 1.
    set(index 0)
    foreach(direction In Out)
        set(number 1)
        while(text MATCHES "lv2:name \"Audio ${direction} ${number}\"")
            list(GET PORTS ${index} name)
            must_replace(text "lv2:name \"Audio ${direction} ${number}\"" "lv2:name \"${name}\"")
            math(EXPR number "${number} + 1")
            math(EXPR index "${index} + 1")
        endwhile()
    endforeach()
    list(LENGTH PORTS count)
    if(NOT index EQUAL count)
        message(FATAL_ERROR "${BUNDLE}: ${index} audio ports for ${count} names")
    endif()

    # 3. Switches. JUCE gives port properties to parameters, which are no ports (lv2_validate counts two errors for each);
    # a parameter that is a switch has the range atom:Bool instead. JUCE reads both.
    string(REGEX REPLACE
        "atom:Float ;(\n\tlv2:default [01] ;\n\tlv2:minimum 0 ;\n\tlv2:maximum 1[ \t]*;)\n\tlv2:portProperty lv2:enumeration , lv2:toggled ;"
        "atom:Bool ;\\1" text "${text}")
    # Choices would be published with values from 0 to 1 whatever their range (JUCE issue 1272, mended in 7.0.8): we have
    # none, and must not get one unawares.
    if(text MATCHES "lv2:portProperty lv2:enumeration")
        message(FATAL_ERROR "${BUNDLE}: a choice parameter; use a switch or a stepped number")
    endif()

    # 4. The host's bypass is LV2's own `enabled` port, and nothing beside it.
    string(REGEX REPLACE "\nplug:${ENABLED}\n[^\n]*(\n\t[^\n]*)*\n" "\n" text "${text}")
    string(REGEX REPLACE "\n\t\tplug:${ENABLED} ,\n" "\n" text "${text}")
    if(text MATCHES "plug:${ENABLED}[ \n]")
        message(FATAL_ERROR "${BUNDLE}: \"${ENABLED}\" is still there")
    endif()

    # 5. Units, and the names of steps.
    foreach(pair IN LISTS UNITS)
        string(REGEX MATCH "^([^=]+)=(.+)$" found "${pair}")
        must_replace(text "\nplug:${CMAKE_MATCH_1}\n\ta lv2:Parameter ;\n"
            "\nplug:${CMAKE_MATCH_1}\n\ta lv2:Parameter ;\n\tunits:unit units:${CMAKE_MATCH_2} ;\n")
    endforeach()
    foreach(pair IN LISTS STEPS)
        string(REGEX MATCH "^([^=]+)=(.+)$" found "${pair}")
        set(parameter ${CMAKE_MATCH_1})
        string(REPLACE "," ";" names "${CMAKE_MATCH_2}")
        set(points "")
        set(value 0)
        foreach(name IN LISTS names)
            list(APPEND points "[\n\t\trdfs:label \"${name}\" \;\n\t\trdf:value ${value} \;\n\t]")
            set(most ${value})
            math(EXPR value "${value} + 1")
        endforeach()
        list(JOIN points " , " points)
        string(REGEX REPLACE "(\nplug:${parameter}\n(\t[^\n]*\n)*\tlv2:maximum )[0-9.]+ \\.\n"
            "\\1${most} ;\n\tlv2:scalePoint ${points} .\n" changed "${text}")
        if(changed STREQUAL text)
            message(FATAL_ERROR "${BUNDLE}: no number \"${parameter}\" to name the steps of")
        endif()
        set(text "${changed}")
    endforeach()

    # 6. JUCE writes 5 for 5.0, which is no float to a strict reader.
    set(number "(-?[0-9]+)( |\t|\n)")
    set(decimal "-?[0-9.]+[ \t]*;\n")
    string(REGEX REPLACE "(atom:Float ;\n\tlv2:default )${number}" "\\1\\2.0\\3" text "${text}")
    string(REGEX REPLACE "(atom:Float ;\n\tlv2:default ${decimal}\tlv2:minimum )${number}" "\\1\\2.0\\3" text "${text}")
    string(REGEX REPLACE "(atom:Float ;\n\tlv2:default ${decimal}\tlv2:minimum ${decimal}\tlv2:maximum )${number}"
        "\\1\\2.0\\3" text "${text}")

    # 7. What it is, and whose. The authors have neither a page nor a mailbox of their own: say nothing rather than
    # something empty.
    string(REGEX REPLACE "\t\tfoaf:(homepage|mbox) <[^>]*> ;\n" "" text "${text}")
    string(REGEX MATCH "doap:maintainer (\\[[^]]*\\])" found "${text}")
    must_replace(text "\ta lv2:Plugin ;\n" "\ta lv2:Plugin , lv2:${CLASS} , doap:Project ;
\tdoap:license <${LICENCE}> ;
\trdfs:comment \"${COMMENT}\" ;
\tlv2:project [
\t\ta doap:Project ;
\t\tdoap:name \"Tarry\" ;
\t\tdoap:license <${LICENCE}> ;
\t\tdoap:maintainer ${CMAKE_MATCH_1} ;
\t] ;\n")

    # 8. The presets speak of a property that JUCE does not describe.
    if(NOT text MATCHES "\nplug:Program\n")
        string(APPEND text "\nplug:Program\n\ta lv2:Parameter , rdf:Property ;\n\trdfs:label \"Program\" ;\n\trdfs:range xsd:int .\n")
    endif()
    file(WRITE "${BUNDLE}/dsp.ttl" "${text}")
endif()

# ------------------------------------------------------------------------------------------------------------- ui.ttl
# JUCE lists one thing too many in two places: a feature (of windows that cannot be sized, and ours can) as data, and data
# as a feature.
file(READ "${BUNDLE}/ui.ttl" text)
string(REPLACE "\t\tui:noUserResize ,\n\t\tui:resize ;\n" "\t\tui:resize ;\n" text "${text}")
string(REPLACE "\t\tui:resize ,\n\t\topts:interface ,\n" "\t\tui:resize ,\n" text "${text}")
file(WRITE "${BUNDLE}/ui.ttl" "${text}")

# ------------------------------------------------------------------------------------------------------- manifest.ttl
# Presets by their names: a session that refers to one finds it again when the list has grown.
file(READ "${BUNDLE}/manifest.ttl" text)
set(number 1)
while(text MATCHES "preset${number}>\n\ta pset:Preset ;\n[^\n]*\n\trdfs:label \"([^\"]+)\"")
    string(TOLOWER "${CMAKE_MATCH_1}" name)
    string(REGEX REPLACE "[^a-z0-9]+" "-" name "${name}")
    string(REGEX REPLACE "^-|-$" "" name "${name}")
    if(text MATCHES "preset-${name}>")
        message(FATAL_ERROR "${BUNDLE}: two presets would be called preset-${name}")
    endif()
    must_replace(text "preset${number}>" "preset-${name}>")
    math(EXPR number "${number} + 1")
endwhile()
# A URI of before: hosts still load it, and know what has taken its place.
if(REPLACED_BY AND NOT text MATCHES "isReplacedBy")
    must_replace(text "\ta lv2:Plugin ;\n" "\ta lv2:Plugin ;\n\t<http://purl.org/dc/terms/isReplacedBy> <${REPLACED_BY}> ;\n")
endif()
file(WRITE "${BUNDLE}/manifest.ttl" "${text}")
