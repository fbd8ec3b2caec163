/* What other programs and the system do to the desk on Windows:
     other hold FILE                        holds a file open as word processors do: others may read it, not write or replace it; until killed
     other call NUMBER TRIGGER COMMAND...   runs a command in this console, has the console's call of that number (1 Ctrl-Break, 2 a closed
                                            window, 5 a log-off, 6 a shutdown) made to it once the file TRIGGER is there, and answers as the
                                            command does
   Windows makes a call by a thread of the program's own that runs CtrlRoutine; no program may ask for a closed window otherwise. */
#include <stdio.h>
#include <stdlib.h>
#include <windows.h>

int main(int count, char **words) {
    if (count == 3 && !strcmp(words[1], "hold")) {
        HANDLE file = CreateFileA(words[2], GENERIC_READ | GENERIC_WRITE, FILE_SHARE_READ, NULL, OPEN_EXISTING, 0, NULL);
        if (file == INVALID_HANDLE_VALUE) return 3;
        puts("held");
        fflush(stdout);
        Sleep(INFINITE);
    }
    if (count > 4 && !strcmp(words[1], "call")) {
        char command[4096] = "";
        STARTUPINFOA start = { .cb = sizeof start };
        PROCESS_INFORMATION child;
        DWORD answer = 0;
        void *routine = (void *)GetProcAddress(GetModuleHandleA("kernelbase"), "CtrlRoutine");
        for (int word = 4; word < count; word++) { strcat(command, words[word]); strcat(command, " "); }
        if (!routine || !CreateProcessA(NULL, command, NULL, NULL, TRUE, 0, NULL, NULL, &start, &child)) return 4;
        while (GetFileAttributesA(words[3]) == INVALID_FILE_ATTRIBUTES) Sleep(5);
        if (!CreateRemoteThread(child.hProcess, NULL, 0, (LPTHREAD_START_ROUTINE)routine, (void *)(size_t)atoi(words[2]), 0, NULL)) return 5;
        WaitForSingleObject(child.hProcess, 30000);
        GetExitCodeProcess(child.hProcess, &answer);
        return (int)answer;
    }
    return 2;
}
