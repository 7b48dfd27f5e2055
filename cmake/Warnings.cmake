# Link tarry_warnings into our own targets only. In our presets every warning is an error there; elsewhere a compiler that
# we have not met may warn and go on.
add_library(tarry_warnings INTERFACE)
target_compile_options(tarry_warnings INTERFACE
    $<$<COMPILE_LANG_AND_ID:CXX,GNU,Clang,AppleClang>:-Wall -Wextra -Wpedantic -Wconversion -Wsign-conversion -Wshadow
        -Wold-style-cast -Wnon-virtual-dtor -Woverloaded-virtual -Wcast-align -Wformat=2 -Wdouble-promotion>
    $<$<COMPILE_LANG_AND_ID:CXX,MSVC>:/W4>)
if(TARRY_WARNINGS_AS_ERRORS)
    target_compile_options(tarry_warnings INTERFACE
        $<$<COMPILE_LANG_AND_ID:CXX,GNU,Clang,AppleClang>:-Werror> $<$<COMPILE_LANG_AND_ID:CXX,MSVC>:/WX>)
endif()
