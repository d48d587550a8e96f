/* Exercises every way over the border. Ends with 0 and prints "ok" if all of it holds. */
#include "guardcell.h"

#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int faults = 0;

static void hold(int holds, const char *what) {
    if (!holds) {
        fprintf(stderr, "fault: %s\n", what);
        faults++;
    }
}

/* One call with a request that ends with a NUL. */
static char *call(const char *name, const char *request, int32_t expected) {
    char *text = NULL;
    size_t length = 0;
    int32_t code = guardcell_call(name, request, request ? strlen(request) : 0, &text, &length);
    hold(code == expected, name ? name : "(null)");
    hold(text != NULL && strlen(text) == length, "the length is that of the text");
    return text;
}

static void refused(const char *name, const char *request, const char *code, const char *pointer) {
    char *text = call(name, request, GUARDCELL_REFUSED);
    char expected[128];
    snprintf(expected, sizeof expected, "{\"code\":\"%s\",\"pointer\":\"%s\"", code, pointer);
    hold(strncmp(text, expected, strlen(expected)) == 0, text);
    guardcell_free(text);
}

static const char *const AIR = "{\"temp_c\": 25, \"rh_percent\": 50}";

struct worker {
    pthread_t thread;
    const char *expected;
    int answered;
};

static void *work(void *argument) {
    struct worker *worker = argument;
    for (int turn = 0; turn < 25; turn++) {
        char *text = NULL;
        int32_t code = guardcell_call("air", AIR, strlen(AIR), &text, NULL);
        worker->answered += code == GUARDCELL_ANSWER && strcmp(text, worker->expected) == 0;
        guardcell_free(text);
        refused("air", "{\"temp_c\": 25}", "wrong-form", "/rh_percent");
    }
    return NULL;
}

int main(void) {
    hold(strcmp(guardcell_version(), EXPECTED_VERSION) == 0, "the version");

    /* An answer. The dew point of 25 °C and 50 % is 13.9 °C in psychrometric tables. */
    char *air = call("air", AIR, GUARDCELL_ANSWER);
    const char *dew = strstr(air, "\"dew_point_c\":");
    hold(dew != NULL && strtod(dew + strlen("\"dew_point_c\":"), NULL) > 13.8
             && strtod(dew + strlen("\"dew_point_c\":"), NULL) < 14.0, air);

    /* Refusals: the fields of the error, with the pointer to the fault. */
    refused("air", "{\"temp_c\": \"warm\", \"rh_percent\": 50}", "wrong-form", "/temp_c");
    refused("air", "{\"temp_c\": 25, \"rh_percent\": 140}", "out-of-range", "/rh_percent");
    refused("convert", "{\"quantity\": \"300 ppm\", \"to\": \"mg/L\"}", "ambiguous-ppm", "/quantity");
    refused("air", "", "malformed-json", "");
    refused("no such call", AIR, "unknown-call", "");

    /* Null pointers. */
    refused(NULL, AIR, "missing", "");
    refused("air", NULL, "missing", "");
    hold(guardcell_call("air", AIR, strlen(AIR), NULL, NULL) == GUARDCELL_NO_PLACE, "no place");
    char *text = NULL;
    hold(guardcell_call(NULL, NULL, 7, &text, NULL) == GUARDCELL_REFUSED, "nothing at all");
    guardcell_free(text);
    guardcell_free(NULL);

    /* Text that is not UTF-8. */
    refused("air\xff", AIR, "invalid-text", "");
    refused("convert", "{\"quantity\": \"\xff\", \"to\": \"g\"}", "malformed-json", "");

    /* A request that no NUL ends, in a block of its own size: a byte too far would be seen. */
    size_t length = strlen(AIR);
    char *block = malloc(length);
    memcpy(block, AIR, length);
    hold(guardcell_call("air", block, length, &text, NULL) == GUARDCELL_ANSWER, "without a NUL");
    hold(strcmp(text, air) == 0, "the same answer");
    guardcell_free(text);
    /* And a NUL within the length is a fault, not an end. */
    block[length - 1] = '\0';
    hold(guardcell_call("air", block, length, &text, NULL) == GUARDCELL_REFUSED, "a NUL inside");
    guardcell_free(text);
    free(block);

    /* Deep nesting neither overflows the stack nor is it read. */
    size_t depth = 1000000;
    char *deep = malloc(depth);
    memset(deep, '[', depth);
    hold(guardcell_call("air", deep, depth, &text, NULL) == GUARDCELL_REFUSED, "deep");
    hold(strncmp(text, "{\"code\":\"too-deep\"", 18) == 0, text);
    guardcell_free(text);
    free(deep);

    /* Threads. */
    struct worker workers[4];
    for (int i = 0; i < 4; i++) {
        workers[i] = (struct worker){.expected = air};
        hold(pthread_create(&workers[i].thread, NULL, work, &workers[i]) == 0, "a thread");
    }
    for (int i = 0; i < 4; i++) {
        pthread_join(workers[i].thread, NULL);
        hold(workers[i].answered == 25, "each thread has every answer");
    }
    guardcell_free(air);

    puts(faults == 0 ? "ok" : "faults");
    return faults != 0;
}
